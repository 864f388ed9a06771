import { readFileSync } from "node:fs";
import { join } from "node:path";
import { namesToAsk, namesToFix } from "../../../src/checks/names/fix.ts";
import { foldWord, tokensOf } from "../../../src/checks/speech.ts";
import type { Subject } from "../../../src/checks/subject.ts";
import { broadcastsIn } from "../../support/broadcasts.ts";
import { around, broadcastOf, episodeOf, programmeOf, registerFrom, subjectFrom } from "./archive.ts";

/** What became of every registered name that was said, a name in a sentence counted once. */
export interface Mentions {
  said: number;
  /** Those that the recogniser wrote as they are, but for capitals. */
  heard: number;
  /** Of the others, those where a check tells the right name at that place. */
  told: number;
  /** Those that `--fix names` writes rightly: misheard ones, and ones in other capitals. */
  mended: number;
  /** What `--fix names` would write where that name was not said. */
  mendedWrongly: number;
  /** First names that were said wrong on air, and of them those that are asked about and those that are changed. */
  saidWrong: number;
  asked: number;
  changed: number;
}

/** How far from its sentence a name may be told, in seconds: times inside a lump are guesses. */
const NEAR = 4;

const foldsIn = (text: string): string =>
  ` ${tokensOf(text)
    .map((token) => foldWord(token.text))
    .join(" ")} `;

/**
 * Registered names as a recogniser left them, against the truth. Nothing is planted in `raw.vtt`; people's names and other
 * names apart. @param transcript such as `raw.vtt`.
 */
export async function measureMentions(folder: string, transcript: string): Promise<ReadonlyMap<string, Mentions>> {
  const tallies = new Map([
    ["people", none()],
    ["other names", none()],
  ]);
  const names = registerFrom(readFileSync(join(folder, "names.csv"), "utf8"));
  const sortOf = (name: string) =>
    names.find((own) => own.name === name)?.kind === "person" ? "people" : "other names";
  for (const id of broadcastsIn(folder, transcript)) {
    const own = join(folder, id);
    const surroundings = await around(programmeOf(names), own);
    const { episode, truth } = broadcastOf(own, transcript);
    const subject = subjectFrom(episode, surroundings);
    const sentences = truth.turns.flatMap((turn) => turn.sentences);
    const told = subject
      .nearMisses()
      .map(({ words, name }) => ({ now: name.entry.name, seconds: words[0]?.seconds ?? 0 }));
    const fixes = namesToFix(subject);
    const saidAt = (name: string, seconds: number) =>
      sentences.some(
        ({ start, end, text }) =>
          seconds > start - NEAR && seconds < end + NEAR && foldsIn(text).includes(foldsIn(name)),
      );
    for (const { start, end, text } of sentences) {
      for (const { name } of names) {
        const tally = tallies.get(sortOf(name));
        if (tally === undefined || !foldsIn(text).includes(foldsIn(name))) continue;
        const isHere = ({ now, seconds }: { now: string; seconds: number }) =>
          now.toLowerCase() === name.toLowerCase() && seconds > start - NEAR && seconds < end + NEAR;
        tally.said += 1;
        if (wordsBetween(subject, start - NEAR, end + NEAR).includes(foldsIn(name))) tally.heard += 1;
        else if (told.some(isHere)) tally.told += 1;
        if (fixes.some(isHere)) tally.mended += 1;
      }
    }
    for (const { now, seconds } of fixes) {
      const tally = tallies.get(sortOf(now));
      if (tally !== undefined && !saidAt(now, seconds)) tally.mendedWrongly += 1;
    }
    const people = tallies.get("people");
    if (people !== undefined) await addSaidWrong(people, own, surroundings);
  }
  return tallies;
}

const none = (): Mentions => ({
  said: 0,
  heard: 0,
  told: 0,
  mended: 0,
  mendedWrongly: 0,
  saidWrong: 0,
  asked: 0,
  changed: 0,
});

const wordsBetween = ({ spoken }: Subject, from: number, to: number): string =>
  ` ${spoken.words
    .filter(({ seconds }) => seconds > from && seconds < to)
    .map(({ fold }) => fold)
    .join(" ")} `;

interface AirFault {
  readonly kind: string;
  readonly said: string;
}

/** First names said wrong on air, in the true text as an editor writes it: asked about, or changed behind everybody's back. */
async function addSaidWrong(
  tally: Mentions,
  folder: string,
  surroundings: Awaited<ReturnType<typeof around>>,
): Promise<void> {
  const air: readonly AirFault[] = JSON.parse(readFileSync(join(folder, "on-air-faults.json"), "utf8")).faults;
  const { truth } = broadcastOf(folder, "raw.vtt");
  const turns = truth.turns.flatMap(({ segment, speaker, sentences }) =>
    sentences.map(({ text }) => ({ segment, voice: speaker, text })),
  );
  const subject = subjectFrom(episodeOf(turns), surroundings);
  const [asked, fixed] = [namesToAsk(subject), namesToFix(subject)];
  for (const { said } of air.filter(({ kind }) => kind === "first-name")) {
    const has = (words: string) => foldsIn(said).includes(foldsIn(words));
    tally.saidWrong += 1;
    if (asked.some((name) => has(name.said))) tally.asked += 1;
    if (fixed.some(({ was }) => has(was))) tally.changed += 1;
  }
}
