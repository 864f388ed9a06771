import type { Check } from "../check.ts";
import { wordsInBreak } from "./inBreak.ts";
import { phraseLoops } from "./loop.ts";
import { stretchMissing } from "./missing.ts";
import { paceTooFast, paceTooSlow } from "./pace.ts";
import { sentenceSaidTwice } from "./saidTwice.ts";
import { stockLine } from "./stockLine.ts";

export const RECOGNISER_CHECKS: readonly Check[] = [
  phraseLoops,
  sentenceSaidTwice,
  wordsInBreak,
  stockLine,
  paceTooFast,
  paceTooSlow,
  stretchMissing,
];
