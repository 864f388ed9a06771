import type { Check } from "../check.ts";
import { wordsInBreak } from "./inBreak.ts";
import { phraseLoops } from "./loop.ts";
import { stretchMissing } from "./missing.ts";
import { paceTooFast, paceTooSlow } from "./pace.ts";
import { sentenceSaidTwice } from "./saidTwice.ts";
import { stockLine } from "./stockLine.ts";
import { timesEven } from "./timesEven.ts";
import { timesStalled } from "./timesStalled.ts";
import { wordsUnderMusic } from "./underMusic.ts";

export const RECOGNISER_CHECKS: readonly Check[] = [
  phraseLoops,
  sentenceSaidTwice,
  wordsInBreak,
  wordsUnderMusic,
  stockLine,
  timesStalled,
  timesEven,
  paceTooFast,
  paceTooSlow,
  stretchMissing,
];
