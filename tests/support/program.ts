import { appendFile, cp, readdir, symlink } from "node:fs/promises";
import { join, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "../..");

/** The command, as it is called from a shell. */
export const AFTERAIR = join(ROOT, "src/cli/afterair.mjs");

/** Copies the program, with another style sheet than ours. @returns the copy's command. */
export async function withAnotherStyle(folder: string): Promise<string> {
  for (const name of ["src", "templates", "package.json", "package-lock.json", "tsconfig.json"])
    await cp(join(ROOT, name), join(folder, name), { recursive: true });
  await symlink(join(ROOT, "node_modules"), join(folder, "node_modules"));
  const [sheet = ""] = (await readdir(join(folder, "templates/style"))).sort();
  await appendFile(join(folder, "templates/style", sheet), "\n/* another */\n");
  return join(folder, "src/cli/afterair.mjs");
}
