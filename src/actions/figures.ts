import { type BuildOptions, dayFor } from "../build/build.ts";
import { dayTextOf } from "../build/readEpisode.ts";
import { figuresOf, type SheetRow } from "../checks/figures/sheet.ts";
import { UsageError } from "../model/usageError.ts";
import { subjectAlone } from "./editorial.ts";
import { oneEpisode } from "./oneEpisode.ts";

/** The figures of an episode, a row each. @throws UsageError where it can't be read, or is not aired on that day. */
export async function figuresOfEpisode(
  id: string,
  options: Pick<BuildOptions, "content" | "on" | "now">,
): Promise<readonly SheetRow[]> {
  const { content } = options;
  const { programme, episode } = oneEpisode(content, id);
  const day = dayFor(options, { programme });
  const on = dayTextOf(episode, day);
  if (on === null) throw new UsageError(`The episode ${id} is aired after ${day.date}.`);
  return figuresOf(await subjectAlone(on.episode, { programme, day: day.date, content }));
}
