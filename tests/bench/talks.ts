import { basename, join } from "node:path";
import { type Manner, PARTS, type Part, type Shares } from "../../src/derive/propose/manner.ts";
import { isTalk } from "../../src/derive/propose/scene.ts";
import { sentencesOf } from "../../src/derive/propose/sentences.ts";
import { LEADS_TO, leadsTo, SIGNS, signsOf } from "../../src/derive/propose/signs.ts";
import { castOf, guestOf, SURE, sceneOf, surePresenter } from "../../src/derive/propose/speakers.ts";
import { type Party, talkVoices } from "../../src/derive/propose/talk.ts";
import { broadcastsIn, NothingMeasured } from "../support/broadcasts.ts";
import { castIn, orderOf, rawWords, sentencesOf as spokenIn, truthOf } from "../support/evening.ts";

type Scene = ReturnType<typeof sceneOf>;

/** A talk of a broadcast as its raw transcript has it, and who said each sentence. */
interface Talk {
  readonly broadcast: string;
  readonly presenters: readonly string[];
  readonly party: Party;
  /** Whom it really was with: who is heard most. */
  readonly guest: string | null;
  readonly scenes: readonly (Scene & { readonly who: string })[];
}

/** A count of nothing counts as so many sentences of what is usual. No source. */
const PRIOR = 4;

/**
 * Counts how talks go, for src/derive/propose/manner.ts, and prints what comes of it: in each broadcast by what was counted in the others.
 * @param folders of broadcasts
 */
export function benchTalks(folders: readonly string[]): void {
  const talks = folders.flatMap((folder) => broadcastsIn(folder).flatMap((id) => talksIn(join(folder, id))));
  if (talks.length === 0)
    throw new NothingMeasured("Nothing was measured: nobody talks with anybody in these broadcasts.");
  say(`export const MANNER: Manner = ${JSON.stringify(mannerOf(talks), null, 2)};`);
  for (const id of new Set(talks.map(({ broadcast }) => broadcast))) {
    const own = talks.filter(({ broadcast }) => broadcast === id);
    const counted = mannerOf(talks.filter(({ broadcast }) => broadcast !== id));
    say(`${id}, by the others: ${outcome(own, counted)}`);
  }
}

const say = (text: string) => process.stdout.write(`${text}\n`);

function talksIn(folder: string): readonly Talk[] {
  const truth = truthOf(folder);
  const end = truth.duration * 1000;
  const [words, exact] = [rawWords(folder, "raw.txt", end), rawWords(folder, "raw.words.json", end)];
  const { people, presenters } = castIn(folder);
  const cast = castOf(words, people);
  const order = orderOf(folder);
  const stretches = order.map((one) => ({ ...one, in: 0, out: 0 }));
  const spoken = spokenIn(truth);
  return order.flatMap((planned, k): Talk[] => {
    if (!isTalk(planned)) return [];
    const [from, to] = [truth.segments[k]?.in ?? 0, truth.segments[k + 1]?.in ?? truth.duration];
    const scenes = sentencesOf(words).flatMap((sentence) => {
      const at = ((exact[sentence.from]?.start ?? 0) + (exact[sentence.to - 1]?.end ?? 0)) / 2000;
      const who = spoken.find(({ start, end: stop }) => start <= at && at <= stop)?.speaker;
      return at < from || at >= to || who === undefined ? [] : [{ ...sceneOf(sentence, words, cast), who }];
    });
    const strangers = people.filter(({ name }) => !presenters.includes(name) && !planned.by.includes(name));
    const known = planned.by.find((name) => !presenters.includes(name)) ?? null;
    const party = {
      presenter: surePresenter({ ...planned, in: 0, out: 0 }, stretches, presenters),
      guest: known ?? guestOf(scenes, strangers),
    };
    return [{ broadcast: basename(folder), presenters, party, guest: known ?? mostHeard(scenes, presenters), scenes }];
  });
}

function mostHeard(scenes: Talk["scenes"], presenters: readonly string[]): string | null {
  const times = new Map<string, number>();
  for (const { who } of scenes) if (!presenters.includes(who)) times.set(who, (times.get(who) ?? 0) + 1);
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

const partOf = ({ who }: Talk["scenes"][number], { presenters, guest }: Talk): Part =>
  presenters.includes(who) ? "presenter" : who === guest ? "guest" : "other";

function mannerOf(talks: readonly Talk[]): Manner {
  const told = talks.map((talk) =>
    talk.scenes.map((scene) => {
      const signs = signsOf(scene, { ...talk.party, guest: talk.guest });
      return { part: partOf(scene, talk), signs, leads: leadsTo(signs) };
    }),
  );
  const all = told.flat();
  const steps = told.flatMap((own) => own.slice(1).flatMap((next, n) => ({ ...own[n], to: next.part })));
  const lasts = told.flatMap((own) => own.at(-1)?.part ?? []);
  const usual = { presenter: 1 / 3, guest: 1 / 3, other: 1 / 3 };
  return {
    signs: byPart((part) => {
      const own = all.filter((one) => one.part === part);
      return record(SIGNS, (sign) => {
        const everywhere = all.filter(({ signs }) => signs.has(sign)).length / all.length;
        return share(own.filter(({ signs }) => signs.has(sign)).length, own.length, everywhere);
      });
    }),
    next: byPart((was) => {
      const from = steps.filter(({ part }) => part === was);
      const mostly = sharesOf(
        from.map(({ to }) => to),
        usual,
      );
      return record(LEADS_TO, (lead) =>
        sharesOf(
          from.flatMap(({ leads, to }) => (leads === lead ? to : [])),
          mostly,
        ),
      );
    }),
    last: sharesOf(lasts, usual),
  };
}

const record = <K extends string, V>(keys: readonly K[], of: (key: K) => V) =>
  Object.fromEntries(keys.map((key) => [key, of(key)])) as Record<K, V>;
const byPart = <V>(of: (part: Part) => V): Record<Part, V> => record(PARTS, of);

/** Never 0 or 1: what was not counted may be. Two digits. */
const share = (part: number, whole: number, usual: number): number =>
  Math.max(0.01, Math.round(((part + PRIOR * usual) / (whole + PRIOR)) * 100) / 100);

const sharesOf = (parts: readonly Part[], usual: Shares): Shares =>
  byPart((part) => share(parts.filter((one) => one === part).length, parts.length, usual[part]));

function outcome(talks: readonly Talk[], manner: Manner): string {
  const judged = talks.flatMap(({ scenes, party }) => {
    const voices = talkVoices(scenes, party, SURE, manner);
    return scenes.map(({ sentence, who }, n) => ({
      words: sentence.to - sentence.from,
      who,
      voice: voices[n]?.voice ?? null,
    }));
  });
  const words = (of: (one: (typeof judged)[number]) => boolean) =>
    judged.filter(of).reduce((sum, one) => sum + one.words, 0);
  const [named, right] = [words(({ voice }) => voice !== null), words(({ voice, who }) => voice === who)];
  return `${right} of ${words(() => true)} words have the right name, ${right} of ${named} names are right`;
}
