import { rmdir } from "node:fs/promises";
import { join } from "node:path";
import { codeOf, type Files, nodeFiles } from "./files.ts";
import type { NewFile } from "./together.ts";

/** Where texts that `retime` replaced are kept until the episode is published. A dot in front: no reader looks there. */
const FOLDER = ".replaced";
/** What the desk changed in the transcript, to be undone. */
export const UNDO_FILE = `${FOLDER}/undo.json`;
const NAME = /^(transcript|episode)\.([1-9]\d*)\.(vtt|md)$/;

/** A text as it was before a command replaced it. */
export interface ReplacedText extends NewFile {
  /** The file that it was: `transcript.vtt` or `episode.md`. */
  readonly of: string;
  readonly number: number;
}

/** The texts kept in an episode's folder, the last one first. */
export async function replacedTexts(folder: string, files: Files = nodeFiles): Promise<readonly ReplacedText[]> {
  const names = (await files.list(folder)).flatMap((path) => {
    const [inside, name = ""] = path.split("/");
    const [, base, number, ending] = NAME.exec(name) ?? [];
    return inside !== FOLDER || base === undefined ? [] : [{ path, of: `${base}.${ending}`, number: Number(number) }];
  });
  const texts = await Promise.all(
    names.map(async (named) => {
      const bytes = await files.read(join(folder, named.path));
      return bytes === null ? [] : [{ ...named, bytes }];
    }),
  );
  return texts.flat().sort((a, b) => b.number - a.number);
}

/** The files by which texts are kept that are about to be replaced: `.replaced/transcript.3.vtt`. All have one number. */
export async function keptTexts(
  folder: string,
  texts: readonly NewFile[],
  files: Files = nodeFiles,
): Promise<readonly NewFile[]> {
  const [last] = await replacedTexts(folder, files);
  const number = (last?.number ?? 0) + 1;
  return texts.map(({ path, bytes }) => ({ path: `${FOLDER}/${path.replace(/\.(?=[a-z]+$)/, `.${number}.`)}`, bytes }));
}

/** Takes the kept texts away, and their folder where nothing else is in it. */
export async function takeReplacedAway(folder: string, files: Files = nodeFiles): Promise<void> {
  for (const { path } of await replacedTexts(folder, files)) await files.remove(join(folder, path));
  const names = await files.list(folder);
  if (names.includes(UNDO_FILE)) await files.remove(join(folder, UNDO_FILE));
  await rmdir(join(folder, FOLDER)).catch((error: unknown) => {
    if (!["ENOENT", "ENOTEMPTY", "EEXIST"].includes(codeOf(error) ?? "")) throw error;
  });
}
