import type { Check } from "../check.ts";
import { allegationNamed } from "./allegation.ts";
import { CAUTION_CHECKS as LABEL_CHECKS } from "./caution.ts";
import { pleaDiffers } from "./pleas.ts";
import { prisonTermDiffers } from "./prisonTerms.ts";
import { courtSidesDiffer } from "./sides.ts";

export const CAUTION_CHECKS: readonly Check[] = [
  ...LABEL_CHECKS,
  allegationNamed,
  courtSidesDiffer,
  pleaDiffers,
  prisonTermDiffers,
];
