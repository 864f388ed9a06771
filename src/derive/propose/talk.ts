import { MANNER, type Manner, PARTS, type Part, type Shares } from "./manner.ts";
import type { ProposedVoice, Scene } from "./scene.ts";
import { leadsTo, SIGNS, type Sign, signsOf } from "./signs.ts";

/** Names where they are known. */
export interface Party {
  readonly presenter: string | null;
  readonly guest: string | null;
}

/** Who says the first sentence: the presenter; but what is taken for a talk's beginning may be a little before or after it. No source. */
const FIRST: Shares = { presenter: 0.9, guest: 0.05, other: 0.05 };
/** So many sentences before anybody else is heard, their name may be said. */
const BEFORE = 2;

/**
 * Who says each sentence of a talk, by the words alone.
 * @param sure what is less likely has no name, from 0 to 1
 */
export function talkVoices(
  scenes: readonly Scene[],
  party: Party,
  sure: number,
  manner: Manner = MANNER,
): readonly ProposedVoice[] {
  const parts = partsOf(scenes, party, manner);
  const likeliest = parts.map((shares) => PARTS.reduce((best, part) => (shares[part] > shares[best] ? part : best)));
  let stranger: string | null = null;
  return scenes.map(({ sentence }, n) => {
    const part = likeliest[n] ?? "other";
    if (part === "other" && likeliest[n - 1] !== "other")
      stranger = introduced(scenes.slice(Math.max(0, n - BEFORE), n), party);
    const name = part === "other" ? stranger : party[part];
    return { ...sentence, voice: (parts[n]?.[part] ?? 0) >= sure ? name : null };
  });
}

const introduced = (before: readonly Scene[], { presenter, guest }: Party): string | null =>
  before.flatMap(({ names }) => names).findLast((name) => name !== presenter && name !== guest) ?? null;

/**
 * How likely each sentence is whose, all of them taken together: forward and backward through a hidden Markov model
 * (L. R. Rabiner, A tutorial on hidden Markov models, Proceedings of the IEEE 77, 1989, section III).
 */
export function partsOf(scenes: readonly Scene[], party: Party, manner: Manner): readonly Shares[] {
  const signs = scenes.map((scene) => signsOf(scene, party));
  const fits = signs.map((own) => fitOf(own, manner));
  const steps = signs.map(leadsTo);
  const forward: Shares[] = [];
  fits.forEach((fit, n) => {
    const [before, step] = [forward[n - 1], steps[n - 1]];
    const reached =
      before === undefined || step === undefined
        ? FIRST
        : each((part) => sum((was) => before[was] * manner.next[was][step][part]));
    forward.push(normal(each((part) => reached[part] * fit[part])));
  });
  let later = manner.last;
  const parts = [...forward];
  for (let n = forward.length - 1; n >= 0; n--) {
    const [own, fit, step] = [forward[n], fits[n], steps[n - 1]];
    if (own === undefined || fit === undefined) continue;
    const after = later;
    parts[n] = normal(each((part) => own[part] * after[part]));
    if (step !== undefined)
      later = normal(each((was) => sum((part) => manner.next[was][step][part] * fit[part] * after[part])));
  }
  return parts;
}

/** How well signs fit each part, taken as if they had nothing to do with each other. */
const fitOf = (signs: ReadonlySet<Sign>, manner: Manner): Shares =>
  normal(
    each((part) =>
      SIGNS.reduce((fit, sign) => {
        const share = manner.signs[part][sign];
        return fit * (signs.has(sign) ? share : 1 - share);
      }, 1),
    ),
  );

const each = (of: (part: Part) => number): Shares => ({
  presenter: of("presenter"),
  guest: of("guest"),
  other: of("other"),
});
const sum = (of: (part: Part) => number): number => of("presenter") + of("guest") + of("other");

function normal(shares: Shares): Shares {
  const whole = sum((part) => shares[part]);
  return each((part) => shares[part] / whole);
}
