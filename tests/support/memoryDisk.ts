import { dirname } from "node:path";
import type { Files } from "../../src/write/record.ts";

/** A disk in memory that keeps to the rules of POSIX for what the record's writers call. */
export interface MemoryDisk {
  readonly files: Files;
  /** All that is on it, folders with a slash at their end, in order. */
  seen(): readonly (readonly [path: string, text: string])[];
}

const failure = (code: string): Error => Object.assign(new Error(code), { code });

/** @param start files by path. */
export function memoryDisk(start: Readonly<Record<string, string>>): MemoryDisk {
  const files = new Map(Object.entries(start).map(([path, text]) => [path, Buffer.from(text)]));
  const folders = new Set<string>();
  const makeFolder = (path: string): void => {
    for (let own = path; own !== "/" && own !== "."; own = dirname(own)) folders.add(own);
  };
  for (const path of files.keys()) makeFolder(dirname(path));
  const below = (path: string): readonly string[] =>
    [...files.keys(), ...folders].filter((own) => own.startsWith(`${path}/`));
  const move = (from: string, to: string): void => {
    const bytes = files.get(from);
    if (bytes !== undefined) files.set(to, bytes);
    if (folders.has(from)) folders.add(to);
    files.delete(from);
    folders.delete(from);
  };
  return {
    files: {
      async read(path) {
        return files.get(path) ?? null;
      },
      async writeSynced(path, bytes) {
        if (!folders.has(dirname(path))) throw failure("ENOENT");
        files.set(path, Buffer.from(bytes));
      },
      async create(path, text) {
        if (files.has(path)) return false;
        files.set(path, Buffer.from(text));
        return true;
      },
      // rename(2): over a file, or over an empty folder; not over a folder that holds anything.
      async rename(from, to) {
        if (!files.has(from) && !folders.has(from)) throw failure("ENOENT");
        if (!folders.has(dirname(to))) throw failure("ENOENT");
        if (folders.has(from) && below(to).length > 0) throw failure("ENOTEMPTY");
        if (folders.has(from) && files.has(to)) throw failure("ENOTDIR");
        for (const own of below(from)) move(own, to + own.slice(from.length));
        move(from, to);
      },
      async remove(path) {
        files.delete(path);
      },
      async removeFolder(path) {
        for (const own of [path, ...below(path)]) {
          files.delete(own);
          folders.delete(own);
        }
      },
      async removeEmpty(path) {
        if (below(path).length === 0) folders.delete(path);
      },
      async makeFolder(path) {
        makeFolder(path);
      },
      async names(path) {
        return [...new Set(below(path).map((own) => own.slice(path.length + 1).split("/")[0] ?? ""))].sort();
      },
      async list(path) {
        return [...files.keys()].filter((own) => own.startsWith(`${path}/`)).map((own) => own.slice(path.length + 1));
      },
      async syncFolder(path) {
        if (!folders.has(path)) throw failure("ENOENT");
      },
    },
    seen: () =>
      [
        ...[...files].map(([path, bytes]) => [path, bytes.toString()] as const),
        ...[...folders].map((path) => [`${path}/`, ""] as const),
      ].sort(([a], [b]) => (a < b ? -1 : 1)),
  };
}
