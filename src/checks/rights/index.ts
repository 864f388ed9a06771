import type { Check } from "../check.ts";
import { agencyCreditMissing } from "./credit.ts";
import { heldEdgeGuessed } from "./edges.ts";
import { rightsLapse } from "./lapse.ts";
import { withheldLeaks } from "./leaks.ts";

export const RIGHTS_CHECKS: readonly Check[] = [withheldLeaks, heldEdgeGuessed, rightsLapse, agencyCreditMissing];
