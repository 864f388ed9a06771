import { figuresOf, sheetText } from "../checks/figures/sheet.ts";
import { readArchive } from "../read/archive.ts";
import { type BuildOptions, dayFor, showArchive } from "./build.ts";
import { subjectNamed } from "./editorial.ts";
import { UsageError } from "./io.ts";

/** `afterair check --figures`: the figures sheet of an episode, a row a figure. */
export async function figuresSheet(id: string, options: Pick<BuildOptions, "content" | "on" | "now">): Promise<string> {
  const { archive } = readArchive(options.content);
  if (archive === null)
    throw new UsageError(`programme.md below ${options.content} can't be read: see afterair check.`);
  const day = dayFor(options, archive);
  const editorial = { archive, shown: showArchive(archive, day, true), day: day.date, content: options.content };
  const subject = await subjectNamed(id, editorial);
  if (subject === null) throw new UsageError(`There is no episode ${id} that can be read below ${options.content}.`);
  return sheetText(figuresOf(subject));
}
