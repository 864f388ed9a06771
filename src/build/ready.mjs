// Plain JavaScript, because it is what Node reads first.
import module from "node:module";
import { fileURLToPath } from "node:url";
import { compiled, programDigest } from "../write/compile.mjs";

const ENTRIES = ["cli/main", "build/jobProcess"];
const SRC = fileURLToPath(new URL("../", import.meta.url));

/** Runs a program of ours in this process. @param name one of `ENTRIES`. */
export async function runProgram(name) {
  const addresses = await compiled(
    ENTRIES.map((entry) => `${SRC}${entry}.ts`),
    programDigest(),
  ).catch((error) => {
    console.error(error.message);
    process.exit(2);
  });
  const address = addresses[ENTRIES.indexOf(name)];
  // From Node 22.1 on: what V8 makes of the code is kept beside it.
  module.enableCompileCache?.(fileURLToPath(new URL("v8/", address)));
  await import(address);
}
