import { lstatSync, readdirSync, realpathSync, statSync } from "node:fs";
import { homedir } from "node:os";
import { basename, dirname, join, resolve, sep } from "node:path";
import { codeOf } from "./files.ts";
import { isCache, readMark } from "./mark.ts";

/** Where a site is to be built: the folder, links followed, or why nothing may be written there, as sentences. */
export type OutFolder =
  | { readonly ok: true; readonly folder: string }
  | { readonly ok: false; readonly why: string; readonly mend: string };

const ELSEWHERE = "Name a folder that is new or empty with --out, such as --out site.";

/** Files that a repository has in a folder that is otherwise empty. They stay, as all does that no build made. */
export const OF_A_REPOSITORY: readonly string[] = [".gitignore", ".gitkeep", "README.md"];

/**
 * Looks whether a build may write into a folder, and touches nothing. It may where the folder is new, is empty, or has the
 * mark of an earlier build; never into the content, above or below it, nor where somebody lives or stands.
 * @param out as it was named. @param content the folder of what people write.
 */
export function outFolder(out: string, content: string): OutFolder {
  const no = (why: string, mend = ELSEWHERE): OutFolder => ({ ok: false, why: `Not built: ${why}`, mend });
  const folder = followed(resolve(out));
  if (folder === null) return no(`${out} is a link that leads nowhere.`, "Make what it leads to, or name another.");
  const source = realpathSync(content);
  if (folder === source) return no(`${out} is the content itself.`);
  if (holds(source, folder)) return no(`${out} lies in the content.`);
  if (holds(folder, source)) return no(`${out} holds the content.`);
  for (const [place, what] of [
    [homedir(), "a home folder"],
    [process.cwd(), "the folder that the command was called in"],
  ] as const) {
    const real = followed(place);
    if (real === folder) return no(`${out} is ${what}.`);
    if (real !== null && holds(folder, real)) return no(`${out} holds ${what}.`);
  }
  return unlike(folder, out) ?? cacheUnlike(folder) ?? { ok: true, folder };

  /** Why what is there is not one for a build; null where it is. */
  function unlike(place: string, name: string): OutFolder | null {
    const found = lstatSync(place, { throwIfNoEntry: false });
    if (found === undefined) return null;
    if (!found.isDirectory()) return no(`${name} is a file, and a site is a folder.`);
    // Another device than the folder around it: something is mounted there, and can't be put in the place of another.
    if (statSync(dirname(place)).dev !== found.dev) {
      return no(`${name} is where a disk is mounted.`, `Name a folder in it, such as --out ${join(name, "site")}.`);
    }
    const others = readdirSync(place).filter((entry) => !OF_A_REPOSITORY.includes(entry));
    if (others.length === 0 || readMark(place) !== null) return null;
    const some = others.slice(0, 3).join(", ");
    return no(
      `${name} has files that no build made (${some}${others.length > 3 ? " …" : ""}), and they would be in danger.`,
      `${ELSEWHERE} If it is an old site of yours, take it away yourself.`,
    );
  }

  function cacheUnlike(place: string): OutFolder | null {
    const cache = cacheOf(place);
    const found = lstatSync(cache, { throwIfNoEntry: false });
    if (found === undefined) return null;
    // Beside a site of ours it is ours, even if its mark was taken away: all in it may be.
    const isOurs = (): boolean => isCache(cache) || readMark(place) !== null || readdirSync(cache).length === 0;
    if (found.isDirectory() && isOurs()) return null;
    const mend = `Name another folder with --out, or take ${cache} away if you know it.`;
    return no(`what a build keeps goes to ${cache}, and what is there is not of a build.`, mend);
  }
}

/** The folder of what is kept between builds, beside the site. */
export const cacheOf = (folder: string): string => join(dirname(folder), `.${basename(folder)}.cache`);

const holds = (folder: string, inner: string): boolean =>
  inner.startsWith(folder.endsWith(sep) ? folder : folder + sep);

/** A path with its links followed, as far as it is there; null where a link leads nowhere. */
function followed(path: string): string | null {
  try {
    return realpathSync(path);
  } catch (error) {
    if (codeOf(error) !== "ENOENT" && codeOf(error) !== "ELOOP") throw error;
    if (lstatSync(path, { throwIfNoEntry: false }) !== undefined) return null;
    const around = followed(dirname(path));
    return around === null ? null : join(around, basename(path));
  }
}
