import { readFileSync } from "node:fs";
import { join } from "node:path";
import { FIGURE_CHECKS } from "../../../src/checks/figures/index.ts";
import { checkEpisode } from "../../../src/checks/index.ts";
import { NAME_CHECKS } from "../../../src/checks/names/index.ts";
import { RECOGNISER_CHECKS } from "../../../src/checks/recogniser/index.ts";
import { parseClock } from "../../../src/model/clock.ts";
import type { Finding } from "../../../src/model/finding.ts";
import type { Programme } from "../../../src/model/programme.ts";
import { clockMs } from "../../../src/model/units.ts";
import { broadcastsIn, NothingMeasured } from "../../support/broadcasts.ts";
import { ownProgramme } from "../../support/ownProgramme.ts";
import { around, broadcastOf, programmeOf, registerFrom, subjectFrom } from "./archive.ts";
import { emptyTally, type Planted, type Tally, tallyUp } from "./tally.ts";

interface Fault {
  readonly id: string;
  readonly kind: string;
  readonly at: number;
  readonly until: number;
  readonly really_until?: number;
  readonly put: string;
  readonly truth?: string;
  readonly places: readonly { readonly vtt: { readonly line: number; readonly start: number; readonly end: number } }[];
}
interface AirFault {
  readonly id: string;
  readonly kind: string;
  readonly at: number;
  readonly until: number;
  readonly said: string;
  readonly segment: string;
  readonly also?: readonly AirFault[];
}

/** Which rules can find what was put into the noisy transcripts. */
const RULES: Readonly<Record<string, readonly string[]>> = {
  "programme-name": ["programme-initials"],
  "name-spelling": ["name-near-miss"],
  "web-address": ["address-misheard"],
  "repeated-sentence": ["sentence-said-twice"],
  loop: ["phrase-loops", "words-in-break"],
  "credit-line": ["stock-line"],
  "timing-stall": ["times-stalled", "stretch-missing"],
};
/** And what was said wrong on air; a quotation given to the wrong speaker is no figure. */
const AIR_RULES: Readonly<Record<string, readonly string[]>> = {
  figure: ["count-differs"],
  score: ["score-differs"],
  rate: ["rate-disagrees"],
  date: ["weekday-not-date"],
  "first-name": ["name-near-miss"],
};

export interface Measured {
  readonly recogniser: Tally;
  readonly names: Tally;
  readonly figures: Tally;
}

const namesOf = (checks: readonly { readonly name: string }[]) => new Set(checks.map(({ name }) => name));
export const GROUP_RULES = {
  recogniser: namesOf(RECOGNISER_CHECKS),
  names: namesOf(NAME_CHECKS),
  figures: namesOf(FIGURE_CHECKS),
} as const;

/** Whether a finding is about a fault put into a file: the same line, and for words in it, about the same column. */
function isAtPlace({ kind, places, until, really_until }: Fault): (finding: Finding) => boolean {
  return ({ at, seconds, rule }) => {
    if (kind === "timing-stall" && rule === "stretch-missing")
      return seconds !== null && seconds >= until - 1 && seconds < (really_until ?? until);
    const near = kind === "name-spelling" || kind === "programme-name" || kind === "web-address" ? 12 : 1000;
    return places.some(
      ({ vtt }) => vtt.line === at.line && at.column - 1 >= vtt.start - near && at.column - 1 < vtt.end,
    );
  };
}

/** The noisy transcripts of a folder of broadcasts against the faults that were put into them. */
export async function measureBroadcasts(folder: string): Promise<Measured> {
  const ids = broadcastsIn(folder, "faults.json");
  const measured = { recogniser: emptyTally(), names: emptyTally(), figures: emptyTally() };
  const names = registerFrom(readFileSync(join(folder, "names.csv"), "utf8"));
  for (const id of ids) {
    const own = join(folder, id);
    const faults: readonly Fault[] = JSON.parse(readFileSync(join(own, "faults.json"), "utf8")).faults;
    const addresses = faults.flatMap(({ kind, truth }) =>
      kind === "web-address" && truth !== undefined ? [truth] : [],
    );
    const surroundings = await around(programmeOf(names, { ...headOf(own), addresses }), own);
    const noisy = broadcastOf(own, "raw-noisy.vtt");
    const findings = checkEpisode(subjectFrom(noisy.episode, surroundings));
    const sentences = noisy.truth.turns.flatMap((turn) => turn.sentences);
    const isSaid = (finding: Finding, name: string): boolean => {
      const cue = noisy.episode.cues.find(
        ({ start, end }) => start <= (finding.seconds ?? 0) * 1000 && (finding.seconds ?? 0) * 1000 < end,
      );
      const [from, to] = [(cue?.start ?? 0) / 1000 - 6, (cue?.end ?? 0) / 1000 + 6];
      return sentences.some(
        ({ start, end, text }) => end > from && start < to && text.toLowerCase().includes(name.toLowerCase()),
      );
    };
    const put = (kinds: readonly string[]): Planted[] =>
      faults
        .filter(({ kind }) => kinds.includes(kind))
        .map((fault) => ({
          name: `${id} ${fault.id} ${fault.kind} ${fault.put}`,
          rules: RULES[fault.kind] ?? [],
          isAt: isAtPlace(fault),
        }));
    tallyUp(
      measured.recogniser,
      put(["repeated-sentence", "loop", "credit-line", "timing-stall"]),
      findings.filter(({ rule }) => GROUP_RULES.recogniser.has(rule)),
    );
    // A finding that nobody put is right when the name that it suggests was really said there.
    tallyUp(
      measured.names,
      put(["programme-name", "name-spelling", "web-address"]),
      findings.filter(({ rule }) => GROUP_RULES.names.has(rule)),
      (finding) => {
        const meant = /^Write ([^,;]+?)[,;.]/.exec(finding.mend)?.[1];
        return finding.rule === "name-small-letters" || (meant !== undefined && isSaid(finding, meant));
      },
    );
    measureAir(measured.figures, own, id, surroundings);
  }
  if (Object.values(measured).every(({ planted, told }) => planted + told === 0))
    throw new NothingMeasured(`Nothing was measured: the broadcasts in ${folder} have no faults.`);
  return measured;
}

/** What the checks know of a broadcast's own programme; nothing where it has none: then it is the demo's. */
function headOf(folder: string): Partial<Programme> {
  const own = ownProgramme(folder);
  if (own === null) return {};
  const { title, station, language, presenters } = own;
  return { title, station, language, presenters };
}

/** The true text, in which only what was said wrong on air is wrong, against the list of that. */
function measureAir(tally: Tally, folder: string, id: string, surroundings: Awaited<ReturnType<typeof around>>): void {
  const air: readonly AirFault[] = JSON.parse(readFileSync(join(folder, "on-air-faults.json"), "utf8")).faults;
  const { episode, truth } = broadcastOf(folder, "raw-noisy.vtt");
  const cues = truth.turns.flatMap(({ speaker, sentences }) =>
    sentences.map(({ start, end, text }) => ({
      id: "",
      start: clockMs(Math.round(start * 1000)),
      end: clockMs(Math.round(end * 1000)),
      pieces: [{ voice: speaker, language: null, words: text }],
      settings: "",
      at: { file: "truth.vtt", line: 1, column: 1 },
    })),
  );
  const findings = checkEpisode(subjectFrom({ ...episode, cues }, { ...surroundings, placeOf: ({ at }) => at }));
  // Of two results, either may be the wrong one: both are told, and each names the other.
  const namedIn = ({ rule, says }: Finding) =>
    rule === "score-differs"
      ? [...says.matchAll(/ at ([\d:]+)/g)].map(([, clock]) => (parseClock(clock ?? "") ?? 0) / 1000)
      : [];
  const within = (finding: Finding, { at, until }: AirFault) =>
    [finding.seconds, ...namedIn(finding)].some((second) => second !== null && second >= at - 1 && second <= until + 8);
  // A figure said wrong in two places is found when one of them is.
  const planted = air
    .filter(({ kind }) => kind !== "attribution" && kind !== "first-name")
    .map((fault) => ({
      name: `${id} ${fault.id} ${fault.kind} ${fault.said}`,
      rules: AIR_RULES[fault.kind] ?? [],
      isAt: (finding: Finding) => [fault, ...(fault.also ?? [])].some((place) => within(finding, place)),
    }));
  tallyUp(
    tally,
    planted,
    findings.filter(({ rule }) => GROUP_RULES.figures.has(rule)),
  );
}
