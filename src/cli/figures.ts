import { subjectAlone } from "../actions/editorial.ts";
import { oneEpisode } from "../actions/oneEpisode.ts";
import { type BuildOptions, dayFor } from "../build/build.ts";
import { dayTextOf } from "../build/readEpisode.ts";
import { figuresOf, sheetText } from "../checks/figures/sheet.ts";
import { UsageError } from "../model/usageError.ts";

/** `afterair check --figures`: the figures sheet of an episode, a row a figure. */
export async function figuresSheet(id: string, options: Pick<BuildOptions, "content" | "on" | "now">): Promise<string> {
  const { content } = options;
  const { programme, episode } = oneEpisode(content, id);
  const day = dayFor(options, { programme });
  const on = dayTextOf(episode, day);
  if (on === null) throw new UsageError(`The episode ${id} is aired after ${day.date}.`);
  return sheetText(figuresOf(await subjectAlone(on.episode, { programme, day: day.date, content })));
}
