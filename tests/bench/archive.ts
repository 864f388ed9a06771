import { spawnSync } from "node:child_process";
import { cpus, totalmem } from "node:os";
import { join } from "node:path";
import { newFolder, readTree, removeFolder } from "../support/site.ts";
import { generateArchive } from "./generate.ts";

const SIZES = [100, 1000];

/** Builds generated archives cold, and what nothing can beat in the same run: copying the output, the search engine alone. */
export async function benchArchive(sizes: readonly number[] = SIZES): Promise<void> {
  console.log(`Archives built cold, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GiB.`);
  console.log("episodes | build s | times cp -r | times the search engine alone | peak MB | files | MB");
  for (const size of sizes) {
    const folder = await newFolder();
    try {
      await generateArchive(join(folder, "content"), size);
      const build = step("build", join(folder, "content"), join(folder, "site"));
      const index = step("index", join(folder, "content"), join(folder, "index"));
      const copying = secondsOf(() => run("cp", ["-r", join(folder, "site"), join(folder, "copy")]));
      const tree = await readTree(join(folder, "site"));
      const bytes = [...tree.values()].reduce((sum, { length }) => sum + length, 0);
      const ratio = (floor: number) => (build.seconds / floor).toFixed(2);
      const row = [size, build.seconds.toFixed(1), ratio(copying), ratio(index.seconds), build.peakMb, tree.size];
      console.log([...row, Math.round(bytes / 1e6)].join(" | "));
    } finally {
      await removeFolder(folder);
    }
  }
}

interface Measured {
  readonly seconds: number;
  readonly peakMb: number;
}

function step(what: "build" | "index", content: string, out: string): Measured {
  const file = join(import.meta.dirname, "step.ts");
  return JSON.parse(run(process.execPath, ["--import", "tsx", file, what, content, out])) as Measured;
}

function run(command: string, args: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(command, args, { encoding: "utf8" });
  if (status !== 0) throw new Error(`${command} failed: ${stderr}`);
  return stdout;
}

function secondsOf(work: () => void): number {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
}
