import { randomUUID } from "node:crypto";
import { constants } from "node:fs";
import { copyFile, mkdir, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { codeOf, nodeFiles, writeFault } from "./files.ts";

/** A file of a new folder: its text, or where to copy it from. */
export type NewFile = { readonly name: string } & ({ readonly text: string } | { readonly from: string });

/**
 * Makes a folder with its files, whole or not at all: they are written beside it, and put in its place by a rename.
 * Never writes over anything.
 * @param files `name`: with slashes for those in folders below.
 * @param mayBeEmpty an empty folder of that name is taken, too.
 * @returns false where there is a folder of that name already.
 */
export async function writeNewFolder(
  folder: string,
  files: readonly NewFile[],
  { mayBeEmpty = false }: { readonly mayBeEmpty?: boolean } = {},
): Promise<boolean> {
  const beside = join(dirname(folder), `.${basename(folder)}.${randomUUID()}`);
  try {
    await nodeFiles.makeFolder(beside);
    for (const file of files) {
      const path = join(beside, file.name);
      await nodeFiles.makeFolder(dirname(path));
      if ("text" in file) await nodeFiles.writeSynced(path, new TextEncoder().encode(file.text));
      else await copyFile(file.from, path, constants.COPYFILE_FICLONE | constants.COPYFILE_EXCL);
    }
    if (!(await claimed(folder)) && !mayBeEmpty) return false;
    if (!(await movedTo(beside, folder))) return false;
    await nodeFiles.syncFolder(dirname(folder));
    return true;
  } catch (error) {
    throw writeFault(error, folder, "Nothing was written.");
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}

/** Puts a folder in the place of an empty one. False where something lies in that. */
async function movedTo(beside: string, folder: string): Promise<boolean> {
  try {
    await rename(beside, folder);
    return true;
  } catch (error) {
    if (["ENOTEMPTY", "EEXIST", "ENOTDIR"].includes(codeOf(error) ?? "")) return false;
    throw error;
  }
}

/** Takes a folder's name: an empty folder of ours, which the rename then replaces. False where somebody has it. */
async function claimed(folder: string): Promise<boolean> {
  try {
    await mkdir(folder);
    return true;
  } catch (error) {
    if (codeOf(error) === "EEXIST") return false;
    throw error;
  }
}

/** Puts a text in the place of a file's, whole or not at all. */
export async function replaceText(path: string, text: string): Promise<void> {
  const beside = `${path}.${randomUUID()}`;
  try {
    await nodeFiles.writeSynced(beside, new TextEncoder().encode(text));
    await rename(beside, path);
    await nodeFiles.syncFolder(dirname(path));
  } catch (error) {
    throw writeFault(error, path, "It is as it was.");
  } finally {
    await rm(beside, { force: true });
  }
}
