import { figuresOfEpisode } from "../actions/figures.ts";
import { sheetText } from "../checks/figures/sheet.ts";

/** `afterair check --figures`: the figures sheet of an episode, a row a figure. */
export const figuresSheet = async (...about: Parameters<typeof figuresOfEpisode>): Promise<string> =>
  sheetText(await figuresOfEpisode(...about));
