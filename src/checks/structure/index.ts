import type { Check } from "../check.ts";
import { segmentGap, segmentOverlap } from "./gaps.ts";
import { speechOutsideSegments } from "./outside.ts";
import { segmentOverUnder, slotOverUnder } from "./overUnder.ts";
import { topicTwoSpellings } from "./topics.ts";
import { creditWithoutSignOff, speakerNotInRegister, speakerNotNamed, twoWayOneVoice } from "./voices.ts";
import { segmentWithoutSpeech } from "./withoutSpeech.ts";

export const STRUCTURE_CHECKS: readonly Check[] = [
  segmentWithoutSpeech,
  speechOutsideSegments,
  segmentGap,
  segmentOverlap,
  segmentOverUnder,
  slotOverUnder,
  twoWayOneVoice,
  speakerNotInRegister,
  speakerNotNamed,
  creditWithoutSignOff,
  topicTwoSpellings,
];
