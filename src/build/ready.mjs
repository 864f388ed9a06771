// Plain JavaScript, because it is what Node reads first.
import module from "node:module";
import { fileURLToPath } from "node:url";
import { compiled, programDigest } from "../write/compile.mjs";

const ENTRIES = ["cli/main", "build/jobProcess", "station/eleventy", "actions/alignThread"];
const SRC = fileURLToPath(new URL("../", import.meta.url));

/** Where a program of ours stands compiled. All are compiled together. @param name one of `ENTRIES`. */
export async function addressOf(name) {
  const addresses = await compiled(
    ENTRIES.map((entry) => `${SRC}${entry}.ts`),
    programDigest(),
  );
  return addresses[ENTRIES.indexOf(name)];
}

/** Runs a program of ours in this process. @param name one of `ENTRIES`. */
export async function runProgram(name) {
  const address = await addressOf(name).catch((error) => {
    console.error(error.message);
    process.exit(2);
  });
  // From Node 22.1 on: what V8 makes of the code is kept beside it.
  module.enableCompileCache?.(fileURLToPath(new URL("v8/", address)));
  await import(address);
}
