import type { Check } from "../check.ts";
import { ageNotBirthYear } from "./age.ts";
import { changeDisagrees } from "./changeDisagrees.ts";
import { countDiffers } from "./countDiffers.ts";
import { partsNotSum } from "./partsNotSum.ts";
import { percentagesOverWhole } from "./percentages.ts";
import { rateDisagrees } from "./rate.ts";
import { scoreDiffers } from "./scoreDiffers.ts";
import { shareDisagrees } from "./shareDisagrees.ts";
import { speedDisagrees } from "./speedDisagrees.ts";
import { superlativeChanges } from "./superlative.ts";
import { totalDisagrees } from "./totalDisagrees.ts";
import { weekdayNotDate } from "./weekday.ts";
import { yearsAgoNotYear } from "./yearsAgo.ts";

export const FIGURE_CHECKS: readonly Check[] = [
  countDiffers,
  scoreDiffers,
  rateDisagrees,
  speedDisagrees,
  totalDisagrees,
  partsNotSum,
  shareDisagrees,
  changeDisagrees,
  percentagesOverWhole,
  weekdayNotDate,
  yearsAgoNotYear,
  ageNotBirthYear,
  superlativeChanges,
];
