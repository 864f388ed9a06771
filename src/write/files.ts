import { existsSync, mkdirSync } from "node:fs";
import { open, readdir, readFile, rename, rm, rmdir, statfs } from "node:fs/promises";
import { dirname, join, relative, sep } from "node:path";

/** The calls by which a record is written: a parameter, so that a full disk or a read-only folder can be tried out. */
export interface Files {
  /** The bytes of a file; null where there is none. */
  read(path: string): Promise<Uint8Array | null>;
  /** Writes a new file or replaces one, and returns when it is on the disk. */
  writeSynced(path: string, bytes: Uint8Array): Promise<void>;
  /** Creates a file that must not exist; false where it does. */
  create(path: string, text: string): Promise<boolean>;
  rename(from: string, to: string): Promise<void>;
  /** Takes a file away; none there is fine. */
  remove(path: string): Promise<void>;
  /** Takes a folder away with all in it; none there is fine. */
  removeFolder(path: string): Promise<void>;
  /** Takes a folder away where it is empty, and leaves it else. */
  removeEmpty(path: string): Promise<void>;
  makeFolder(path: string): Promise<void>;
  /** What lies in a folder, by name; nothing where there is none. */
  names(path: string): Promise<readonly string[]>;
  /** All files in a folder and below, as paths inside it with forward slashes. */
  list(path: string): Promise<readonly string[]>;
  /** Puts a folder's entries on the disk. */
  syncFolder(path: string): Promise<void>;
}

/**
 * Makes a folder and those around it that are missing. Asked for all at once, Node tells a disk that can only be read as
 * "no such folder": the one that can't be made is asked for by itself, and says why.
 */
export function makeFolders(path: string): void {
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    if (codeOf(error) !== "ENOENT" || dirname(path) === path) throw error;
    if (!existsSync(dirname(path))) makeFolders(dirname(path));
    mkdirSync(path);
  }
}

export const nodeFiles: Files = {
  async read(path) {
    try {
      return new Uint8Array(await readFile(path));
    } catch (error) {
      if (codeOf(error) === "ENOENT") return null;
      throw error;
    }
  },
  async writeSynced(path, bytes) {
    const file = await open(path, "w");
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
  },
  async create(path, text) {
    try {
      const file = await open(path, "wx");
      try {
        await file.writeFile(text);
      } catch (error) {
        await rm(path, { force: true });
        throw error;
      } finally {
        await file.close();
      }
      return true;
    } catch (error) {
      if (codeOf(error) === "EEXIST") return false;
      throw error;
    }
  },
  rename,
  async remove(path) {
    await rm(path, { force: true });
  },
  async removeFolder(path) {
    await rm(path, { recursive: true, force: true });
  },
  async removeEmpty(path) {
    await rmdir(path).catch((error: unknown) => {
      if (!["ENOENT", "ENOTEMPTY", "EEXIST", "ENOTDIR"].includes(codeOf(error) ?? "")) throw error;
    });
  },
  async makeFolder(path) {
    makeFolders(path);
  },
  async names(path) {
    try {
      return await readdir(path);
    } catch (error) {
      if (codeOf(error) === "ENOENT") return [];
      throw error;
    }
  },
  async list(path) {
    const entries = await readdir(path, { recursive: true, withFileTypes: true });
    const files = entries.filter((entry) => !entry.isDirectory());
    return files.map((entry) => relative(path, join(entry.parentPath, entry.name)).split(sep).join("/"));
  },
  async syncFolder(path) {
    const folder = await open(path, "r");
    // Some file systems can't sync a folder; their renames are as lasting as they get.
    await folder
      .sync()
      .catch((error: unknown) => {
        if (!["EINVAL", "EPERM", "ENOTSUP"].includes(codeOf(error) ?? "")) throw error;
      })
      .finally(() => folder.close());
  },
};

/** The system's name for what went wrong: `ENOSPC`. */
export const codeOf = (error: unknown): string | undefined =>
  error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : undefined;

/** A write that could not be made, said so that people can mend it. */
export class WriteFault extends Error {}

const WHY: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full. Make room and run the command again.",
  EDQUOT: "this user's share of the disk is used up. Make room and run the command again.",
  EFBIG: "a file would be larger than this user may write. Let it, and run the command again.",
  EROFS: "it is on a disk that can only be read. Run the command where it can be written.",
  EACCES: "this user may not write there. Let it, and run the command again.",
  EPERM: "this user may not write there. Let it, and run the command again.",
};

/** Names that systems give their errors; those of Node's own have an underscore, and are faults of ours. */
const OF_THE_SYSTEM = /^E[A-Z\d]+$/;

/** The fault of a failed write; errors that are no system's pass on as they are. */
export function writeFault(error: unknown, folder: string, state: string): unknown {
  const code = codeOf(error);
  if (code === undefined || !OF_THE_SYSTEM.test(code)) return error;
  const why = WHY[code] ?? `the system says ${code}. Mend that and run the command again.`;
  return new WriteFault(`${folder} can't be written: ${why} ${state}`, { cause: error });
}

/** Throws, as a write would, where the disk of a folder has not so many bytes left. The folder need not be there yet. */
export async function requireRoom(folder: string, bytes: number): Promise<void> {
  if (!existsSync(folder) && dirname(folder) !== folder) return requireRoom(dirname(folder), bytes);
  const { bavail, bsize } = await statfs(folder);
  if (bavail * bsize < bytes) throw Object.assign(new Error(`${folder} has no room left`), { code: "ENOSPC" });
}
