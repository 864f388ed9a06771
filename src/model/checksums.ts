/** A file of a checksum list. */
export interface Checksum {
  /** Relative to the folder in which the list is checked, with forward slashes. */
  readonly path: string;
  /** SHA-256, as 64 hex digits. */
  readonly digest: string;
}

const LINE = /^(\\?)([0-9a-f]{64}) [ *](.+)$/;

/**
 * A list that `sha256sum -c` checks: a line a file, in the order of the paths' bytes. A path with a backslash or a line
 * break in it is escaped as coreutils does. Throws for a path that leads out of the folder.
 */
export function checksumList(files: readonly Checksum[]): string {
  return inByteOrder(files, ({ path }) => path)
    .map(({ path, digest }) => {
      if (path === "" || path.startsWith("/") || path.split("/").includes("..")) throw new Error(`outside: ${path}`);
      const escaped = path.replaceAll("\\", "\\\\").replaceAll("\n", "\\n").replaceAll("\r", "\\r");
      return `${escaped === path ? "" : "\\"}${digest}  ${escaped}\n`;
    })
    .join("");
}

/** The list of several folders from the list of each, by its path with a slash at its end: none may lie in another. */
export const listOfFolders = (lists: ReadonlyMap<string, string>): string =>
  inByteOrder([...lists], ([folder]) => folder)
    .map(([, list]) => list)
    .join("");

const inByteOrder = <T>(things: readonly T[], pathOf: (thing: T) => string): readonly T[] =>
  things
    .map((thing) => ({ thing, bytes: Buffer.from(pathOf(thing)) }))
    .sort((a, b) => Buffer.compare(a.bytes, b.bytes))
    .map(({ thing }) => thing);

/** Digests by path, out of a checksum list. Lines that are none, and comments, are passed over, as `sha256sum` does. */
export function parseChecksums(text: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const line of text.split("\n")) {
    const [, escaped, digest, path] = LINE.exec(line) ?? [];
    if (digest === undefined || path === undefined) continue;
    found.set(escaped === "\\" ? unescaped(path) : path, digest);
  }
  return found;
}

const unescaped = (path: string): string =>
  path.replace(/\\([\\nr])/g, (_whole, letter) => (letter === "n" ? "\n" : letter === "r" ? "\r" : "\\"));
