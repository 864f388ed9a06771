import { z } from "zod";
import { CAPTION_FIGURES, type CaptionFigures } from "../model/captions.ts";
import { bad, field, type Judge, judgeWhole } from "./fields.ts";

const judgeSeconds: Judge<number> = (written) =>
  typeof written === "number" && written >= 0 && written <= 60
    ? { ok: true, value: written }
    : bad("number-wanted", "is no number of seconds", "Write seconds, like 1.5, without quotes or units.");

const count = (description: string, usual: number) =>
  field(judgeWhole(1), { type: "integer", minimum: 1, description, examples: [usual] }).optional();
const seconds = (description: string, usual: number) =>
  field(judgeSeconds, { type: "number", minimum: 0, maximum: 60, description, examples: [usual / 1000] }).optional();

/** The key `captions` of programme.md: figures that differ from the published ones. Times in seconds. */
export const CaptionsShape = z
  .strictObject({
    line: count("The most characters in a line.", CAPTION_FIGURES.line),
    lines: count("The most lines in a cue.", CAPTION_FIGURES.lines),
    rate: count("Words a minute that are read with ease.", CAPTION_FIGURES.rate),
    fastest: count("The most words a minute.", CAPTION_FIGURES.fastest),
    shortest: seconds("The shortest time that a cue stands, in seconds.", CAPTION_FIGURES.shortest),
    longest: seconds("The longest time that a cue stands, in seconds.", CAPTION_FIGURES.longest),
    gap: seconds("A gap between cues is none, or at least this many seconds.", CAPTION_FIGURES.gap),
    hang: seconds("The longest that a cue stands after its last word, in seconds.", CAPTION_FIGURES.hang),
  })
  .meta({ description: "What captions are cut to and judged by, where it differs from the published figures." });

/** The figures that hold: the programme's own, and the published ones for the rest. */
export function captionFigures(own: z.infer<typeof CaptionsShape>): CaptionFigures {
  const ms = (key: "shortest" | "longest" | "gap" | "hang"): number => {
    const given = own[key];
    return given === undefined ? CAPTION_FIGURES[key] : Math.round(given * 1000);
  };
  return {
    line: own.line ?? CAPTION_FIGURES.line,
    lines: own.lines ?? CAPTION_FIGURES.lines,
    rate: own.rate ?? CAPTION_FIGURES.rate,
    fastest: own.fastest ?? CAPTION_FIGURES.fastest,
    shortest: ms("shortest"),
    longest: ms("longest"),
    gap: ms("gap"),
    hang: ms("hang"),
  };
}
