import type { Check } from "../check.ts";
import { addressMisheard } from "./address.ts";
import { nameHeard } from "./heard.ts";
import { programmeInitials } from "./initials.ts";
import { nameNearMiss } from "./nearMiss.ts";
import { nameSmallLetters } from "./smallLetters.ts";
import { nameTwoSpellings } from "./twoSpellings.ts";

export const NAME_CHECKS: readonly Check[] = [
  nameNearMiss,
  nameHeard,
  nameTwoSpellings,
  nameSmallLetters,
  programmeInitials,
  addressMisheard,
];
