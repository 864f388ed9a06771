import {
  constants,
  copyFileSync,
  linkSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readlinkSync,
  symlinkSync,
} from "node:fs";
import { dirname } from "node:path";
import { codeOf } from "./files.ts";

/** A file, or a folder with all in it, at a second place: by hard links where the file system has them, copies else. */
export function share(from: string, to: string): void {
  const found = lstatSync(from, { throwIfNoEntry: false });
  if (found?.isDirectory()) {
    shareFolder(from, to);
  } else if (found !== undefined) {
    mkdirSync(dirname(to), { recursive: true });
    shareFile(from, to, found.isSymbolicLink());
  }
}

function shareFolder(from: string, to: string): void {
  mkdirSync(to, { recursive: true });
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [one, other] = [`${from}/${entry.name}`, `${to}/${entry.name}`];
    if (entry.isDirectory()) shareFolder(one, other);
    else shareFile(one, other, entry.isSymbolicLink());
  }
}

/** Codes by which a file system says that it has no (more) hard links for this file. */
const NO_LINKS = ["EXDEV", "EPERM", "EMLINK", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EACCES"];

function shareFile(from: string, to: string, isLink: boolean): void {
  // A second link to the same place: whether a hard link would be one of the link itself differs between systems.
  try {
    if (isLink) symlinkSync(readlinkSync(from), to);
    else linkSync(from, to);
  } catch (error) {
    if (!NO_LINKS.includes(codeOf(error) ?? "")) throw error;
    copyFileSync(from, to, constants.COPYFILE_FICLONE);
  }
}
