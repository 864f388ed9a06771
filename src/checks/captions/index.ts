import type { Check } from "../check.ts";
import { captionGap } from "./gap.ts";
import { captionLineLength } from "./lineLength.ts";
import { captionLines } from "./lines.ts";
import { captionOverCut } from "./overCut.ts";
import { captionRate } from "./rate.ts";
import { captionSpeakers } from "./speakers.ts";
import { captionTooLong } from "./tooLong.ts";
import { captionTooShort } from "./tooShort.ts";

export const CAPTION_CHECKS: readonly Check[] = [
  captionRate,
  captionLineLength,
  captionLines,
  captionTooShort,
  captionTooLong,
  captionGap,
  captionOverCut,
  captionSpeakers,
];
