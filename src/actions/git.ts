import { spawn } from "node:child_process";
import { devNull } from "node:os";
import { basename, dirname, join } from "node:path";

/**
 * What version control knows of a content folder. Reads only, and runs nothing that the repository names: git is called
 * without anybody's settings but the repository's own, and of these each that starts a program is taken away. Only commands
 * are called that look at neither signatures nor the state of files, and that pass no file through a filter. Where git is
 * not there, or refuses, nothing is known.
 */

const NEUTRAL: readonly string[] = [
  "--no-pager",
  "--no-replace-objects",
  "--literal-pathspecs",
  ...[
    "core.fsmonitor=false",
    `core.hooksPath=${devNull}`,
    `core.attributesFile=${devNull}`,
    "core.pager=cat",
    "core.sshCommand=false",
    "core.askPass=",
    "credential.helper=",
    "log.showSignature=false",
    "diff.external=",
    "protocol.allow=never",
    "submodule.recurse=false",
  ].flatMap((context) => ["-c", context]),
];

/** Settings from outside would point git at another repository, or at programs of their own. */
function neutralEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !name.startsWith("GIT_"));
  return {
    ...Object.fromEntries(kept),
    GIT_CONFIG_NOSYSTEM: "1",
    GIT_CONFIG_GLOBAL: devNull,
    GIT_ATTR_NOSYSTEM: "1",
    GIT_NO_REPLACE_OBJECTS: "1",
    GIT_NO_LAZY_FETCH: "1",
    GIT_ALLOW_PROTOCOL: "none",
    GIT_TERMINAL_PROMPT: "0",
    GIT_OPTIONAL_LOCKS: "0",
  };
}

/** Calls git in a folder. @returns what it printed; null where it is not there or ended with a fault. */
export function askGit(folder: string, call: readonly string[], given = ""): Promise<Buffer | null> {
  return new Promise((done) => {
    const child = spawn("git", [...NEUTRAL, ...call], {
      cwd: folder,
      env: neutralEnvironment(),
      stdio: ["pipe", "pipe", "ignore"],
    });
    const parts: Buffer[] = [];
    child.on("error", () => done(null));
    child.on("close", (code) => done(code === 0 ? Buffer.concat(parts) : null));
    child.stdout.on("data", (part: Buffer) => void parts.push(part));
    // Git may end before it has read all.
    child.stdin.on("error", () => undefined);
    child.stdin.end(given);
  });
}

const linesOf = (bytes: Buffer | null): readonly string[] =>
  bytes === null
    ? []
    : bytes
        .toString("utf8")
        .split("\n")
        .filter((line) => line !== "");
const namesOf = (bytes: Buffer | null): readonly string[] =>
  bytes === null
    ? []
    : bytes
        .toString("utf8")
        .split("\0")
        .filter((name) => name !== "");

/** Versions looked at, newest first. */
const MOST_VERSIONS = 200;

/** The earlier versions of a file that git keeps, newest first, each once. @param file below the content folder. */
export async function earlierVersions(content: string, file: string): Promise<readonly Uint8Array[]> {
  const [folder, name] = [join(content, dirname(file)), basename(file)];
  const commits = linesOf(await askGit(folder, ["rev-list", `-n${MOST_VERSIONS}`, "HEAD", "--", name]));
  if (commits.length === 0) return [];
  const [prefix = ""] = linesOf(await askGit(folder, ["rev-parse", "--show-prefix"]));
  const blobs = await blobsOf(
    folder,
    commits.map((commit) => `${commit}:${prefix}${name}`),
  );
  return [...new Map(blobs.map(({ id, bytes }) => [id, bytes])).values()];
}

/** Objects of a repository that are files' contents. */
async function blobsOf(
  folder: string,
  names: readonly string[],
): Promise<readonly { readonly id: string; readonly bytes: Uint8Array }[]> {
  const all = await askGit(folder, ["cat-file", "--batch"], names.map((name) => `${name}\n`).join(""));
  const found: { id: string; bytes: Uint8Array }[] = [];
  for (let at = 0; all !== null && at < all.length; ) {
    const end = all.indexOf("\n", at);
    const [, id, type, size] = /^([0-9a-f]+) (\w+) (\d+)$/.exec(all.toString("utf8", at, end)) ?? [];
    at = end + 1;
    // What is missing has no bytes after its line.
    if (id === undefined || size === undefined) continue;
    if (type === "blob") found.push({ id, bytes: new Uint8Array(all.subarray(at, at + Number(size))) });
    at += Number(size) + 1;
  }
  return found;
}

const RECORD = /^episodes\/[^/]+\/([^/]+)\/record\.jsonl$/;

/** The records of the last commit, by episode. */
export async function committedRecords(content: string): Promise<ReadonlyMap<string, string>> {
  const listed = namesOf(await askGit(content, ["ls-tree", "-r", "-z", "HEAD", "--", "episodes"]));
  const records = listed.flatMap((line) => {
    const [, blob, path = ""] = /^\d+ blob ([0-9a-f]+)\t(.*)$/s.exec(line) ?? [];
    const id = RECORD.exec(path)?.[1];
    return blob === undefined || id === undefined ? [] : [{ id, blob }];
  });
  const blobs = await blobsOf(
    content,
    records.map(({ blob }) => blob),
  );
  const texts = new Map(blobs.map(({ id, bytes }) => [id, Buffer.from(bytes).toString("utf8")]));
  return new Map(records.flatMap(({ id, blob }) => (texts.has(blob) ? [[id, texts.get(blob) ?? ""]] : [])));
}

/** Whether version control leaves a file's bytes and lines alone: neither turns its line ends nor merges it line by line. */
export async function isLeftAlone(content: string, file: string): Promise<boolean> {
  const told = namesOf(await askGit(content, ["check-attr", "-z", "text", "merge", "--", file]));
  return told[2] === "unset" && told[5] === "unset";
}

/**
 * The two versions of an episode's record, this copy's and the other's, that a merge could not bring together; null where
 * there are not two. @param folder the episode's.
 */
export async function unmergedRecords(folder: string): Promise<readonly [string, string] | null> {
  const listed = namesOf(await askGit(folder, ["ls-files", "-u", "-z", "--", "record.jsonl"]));
  const blobs = listed.flatMap((line) => {
    const [, blob, stage] = /^\d+ ([0-9a-f]+) ([23])\t/.exec(line) ?? [];
    return blob === undefined || stage === undefined ? [] : [{ blob, stage }];
  });
  const [ours, theirs] = ["2", "3"].map((stage) => blobs.find((own) => own.stage === stage)?.blob);
  if (ours === undefined || theirs === undefined) return null;
  const [one, other] = await blobsOf(folder, [ours, theirs]);
  return one === undefined || other === undefined
    ? null
    : [Buffer.from(one.bytes).toString("utf8"), Buffer.from(other.bytes).toString("utf8")];
}

/** The episodes whose record was taken away or renamed in some commit, whether it came back or not. */
export async function removedRecords(content: string): Promise<readonly string[]> {
  const commits = await askGit(content, ["rev-list", "HEAD", "--", "episodes"]);
  if (commits === null || commits.length === 0) return [];
  const call = ["diff-tree", "--stdin", "-r", "-m", "--root", "--raw", "-z", "--relative", "--no-renames"];
  const safe = ["--no-ext-diff", "--no-textconv", "--diff-filter=D", "--name-only", "--no-commit-id"];
  const names = namesOf(await askGit(content, [...call, ...safe, "--", "episodes"], commits.toString("utf8")));
  return [...new Set(names.flatMap((name) => RECORD.exec(name)?.[1] ?? []))];
}
