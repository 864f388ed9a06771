import type { Check } from "../check.ts";
import { ageNotBirthYear } from "./age.ts";
import { countDiffers } from "./countDiffers.ts";
import { percentagesOverWhole } from "./percentages.ts";
import { rateDisagrees } from "./rate.ts";
import { scoreDiffers } from "./scoreDiffers.ts";
import { superlativeChanges } from "./superlative.ts";
import { weekdayNotDate } from "./weekday.ts";

export const FIGURE_CHECKS: readonly Check[] = [
  countDiffers,
  scoreDiffers,
  rateDisagrees,
  percentagesOverWhole,
  weekdayNotDate,
  ageNotBirthYear,
  superlativeChanges,
];
