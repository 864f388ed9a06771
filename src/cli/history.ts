import { execFile } from "node:child_process";
import { basename, dirname, join } from "node:path";
import { promisify } from "node:util";

const run = promisify(execFile);

/** Versions looked at, newest first. */
const MOST_VERSIONS = 200;
const MOST_BYTES = 32_000_000;

/**
 * The earlier versions of a file that git keeps, newest first, each once; none where the folder is under no version
 * control, or git is not there. Reads only.
 */
export async function earlierVersions(content: string, file: string): Promise<readonly Uint8Array[]> {
  const folder = join(content, dirname(file));
  const git = async (...call: readonly string[]): Promise<Buffer | null> => {
    const options = { cwd: folder, encoding: "buffer", maxBuffer: MOST_BYTES, env: gitEnvironment() } as const;
    const done = await run("git", ["--no-pager", ...call], options).catch(() => null);
    return done === null ? null : done.stdout;
  };
  const name = basename(file);
  const log = await git("log", `-n${MOST_VERSIONS}`, "--format=%H", "--", name);
  const versions: Uint8Array[] = [];
  const seen = new Set<string>();
  for (const commit of log === null
    ? []
    : log
        .toString("utf8")
        .split("\n")
        .filter((line) => line !== "")) {
    const id = (await git("rev-parse", `${commit}:./${name}`))?.toString("utf8");
    if (id === undefined || seen.has(id)) continue;
    seen.add(id);
    const bytes = await git("cat-file", "blob", id.trim());
    if (bytes !== null) versions.push(new Uint8Array(bytes));
  }
  return versions;
}

/** Git's own settings from outside would point it at another repository. */
function gitEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !name.startsWith("GIT_"));
  return { ...Object.fromEntries(kept), GIT_OPTIONAL_LOCKS: "0" };
}
