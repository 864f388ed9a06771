import { stat } from "node:fs/promises";
import { join, resolve, sep } from "node:path";
import { fileOf } from "../model/address.ts";

/** What stands at a path of the site. */
export type SiteFile =
  | { readonly is: "file"; readonly file: string; readonly size: number }
  | { readonly is: "folder" }
  | { readonly is: "nothing" };

/**
 * Finds what a path of the site stands for; an address that ends in a slash is served by a file in that folder.
 * @param path after the base, without a slash at its beginning, percent-encoded as it came.
 */
export async function findSiteFile(folder: string, path: string): Promise<SiteFile> {
  const name = decode(path);
  const whole = resolve(folder);
  if (name === null || name.split(/[/\\]/).some((part) => part === ".." || part.startsWith(".")))
    return { is: "nothing" };
  const file = join(whole, fileOf(name));
  if (!file.startsWith(whole + sep)) return { is: "nothing" };
  const found = await stat(file).catch(() => null);
  if (found?.isFile()) return { is: "file", file, size: found.size };
  return found?.isDirectory() ? { is: "folder" } : { is: "nothing" };
}

function decode(path: string): string | null {
  try {
    const name = decodeURIComponent(path);
    return name.includes("\0") ? null : name;
  } catch {
    return null;
  }
}
