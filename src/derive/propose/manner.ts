import type { LeadsTo, Sign } from "./signs.ts";

/** Who is heard in a talk: who leads it, whom it is with, and anybody else. */
export const PARTS = ["presenter", "guest", "other"] as const;
export type Part = (typeof PARTS)[number];

/** By part a share of 1. */
export type Shares = Readonly<Record<Part, number>>;

/** How talks go, as far as their words show it. */
export interface Manner {
  /** Of a part's sentences, how many have each sign: from 0 to 1. */
  readonly signs: Readonly<Record<Part, Readonly<Record<Sign, number>>>>;
  /** Who says the next sentence, by who says this one and what it leads to. */
  readonly next: Readonly<Record<Part, Readonly<Record<LeadsTo, Shares>>>>;
  /** Who says the last one. */
  readonly last: Shares;
}

/**
 * How talks go, counted from raw transcripts whose truth is known: the 11 talks of the three broadcasts of the demo and of the first two
 * in tests/bench/broadcasts (`npm run bench -- talks`).
 */
export const MANNER: Manner = {
  signs: {
    presenter: {
      asks: 0.22,
      "says I": 0.16,
      "says we": 0.1,
      "says you": 0.25,
      "says he or she": 0.28,
      "tells who said": 0.15,
      thanks: 0.07,
      short: 0.22,
      long: 0.18,
      "names the guest": 0.06,
      "names another": 0.09,
      "hands over": 0.05,
    },
    guest: {
      asks: 0.03,
      "says I": 0.31,
      "says we": 0.1,
      "says you": 0.17,
      "says he or she": 0.26,
      "tells who said": 0.18,
      thanks: 0.01,
      short: 0.14,
      long: 0.22,
      "names the guest": 0.01,
      "names another": 0.05,
      "hands over": 0.03,
    },
    other: {
      asks: 0.12,
      "says I": 0.33,
      "says we": 0.16,
      "says you": 0.06,
      "says he or she": 0.2,
      "tells who said": 0.04,
      thanks: 0.01,
      short: 0.3,
      long: 0.13,
      "names the guest": 0.02,
      "names another": 0.01,
      "hands over": 0.01,
    },
  },
  next: {
    presenter: {
      "an answer": {
        presenter: 0.15,
        guest: 0.81,
        other: 0.04,
      },
      "a report": {
        presenter: 0.57,
        guest: 0.41,
        other: 0.02,
      },
      another: {
        presenter: 0.75,
        guest: 0.21,
        other: 0.04,
      },
      nothing: {
        presenter: 0.5,
        guest: 0.39,
        other: 0.11,
      },
    },
    guest: {
      "an answer": {
        presenter: 0.14,
        guest: 0.85,
        other: 0.01,
      },
      "a report": {
        presenter: 0.47,
        guest: 0.52,
        other: 0.01,
      },
      another: {
        presenter: 0.22,
        guest: 0.76,
        other: 0.01,
      },
      nothing: {
        presenter: 0.32,
        guest: 0.66,
        other: 0.02,
      },
    },
    other: {
      "an answer": {
        presenter: 0.07,
        guest: 0.29,
        other: 0.64,
      },
      "a report": {
        presenter: 0.13,
        guest: 0.33,
        other: 0.54,
      },
      another: {
        presenter: 0.16,
        guest: 0.16,
        other: 0.68,
      },
      nothing: {
        presenter: 0.17,
        guest: 0.09,
        other: 0.74,
      },
    },
  },
  last: {
    presenter: 0.69,
    guest: 0.22,
    other: 0.09,
  },
};
