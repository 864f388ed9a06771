import { randomFrom } from "../../support/random.ts";
import { heardFor, mid } from "./heardFor.ts";
import type { TrueSentence, Truth } from "./lay.ts";
import { indentOf, type Lump, lineOf, lumpFrom, type Token } from "./lumps.ts";
import type { Noise } from "./script.ts";
import { sayableOf, spokenOf } from "./spoken.ts";

/** A recogniser's mistake that was put in. */
interface Fault {
  readonly id: string;
  readonly kind: string;
  readonly at: number;
  readonly until: number;
  readonly really_until?: number;
  readonly put: string;
  readonly times?: number;
  readonly words?: number;
  readonly instead_of: string;
  readonly truth?: string;
  readonly repeats?: string;
}

type Draft = Omit<Fault, "id">;

/** Lumps with mistakes, and what was put where. */
export interface Noisy {
  readonly lumps: readonly Lump[];
  readonly faults: unknown;
}

/** How long a looping line lasts, how long a stalled one, and from one to the next: seconds. */
const LOOP = { lasts: 1.98, step: 2, after: 0.9 } as const;
const STALL = { lumps: 4, lasts: 0.48, step: 0.5 } as const;

/** Puts the mistakes of neural recognisers into lumps, each where the script says. The seed chooses among places. */
export function noisyFrom(truth: Truth, noises: readonly Noise[], clean: readonly Lump[], seed: number): Noisy {
  const random = randomFrom(seed);
  const faults: Fault[] = [];
  let lumps = clean;
  const add = (draft: Draft): string => {
    const id = `f${String(faults.length + 1).padStart(2, "0")}`;
    faults.push({ id, ...draft });
    return id;
  };
  const sentences = truth.turns.flatMap((turn) => turn.sentences);

  /** Puts other words in place of those heard for a phrase. @returns whether anything was heard. */
  const replace = (sentence: TrueSentence, phrase: string, kind: string, put: string): boolean => {
    const place = heardFor(sentence, spokenOf(sayableOf(phrase, truth.language)), lumps);
    if (place === null) return false;
    const { lump, from, to } = place;
    const own = lumps[lump];
    const [first, last] = [own?.tokens[from], own?.tokens[to - 1]];
    if (own === undefined || first === undefined || last === undefined) return false;
    const heard = own.tokens.slice(from, to);
    if (heard.some(({ fault }) => fault !== undefined)) return false;
    const { start: at, end: until } = { start: first.start, end: last.end };
    const fault = add({ kind, at, until, put, instead_of: heard.map(({ text }) => text).join(" "), truth: phrase });
    const token = { start: at, end: until, text: put, stop: last.stop, fault };
    lumps = lumps.with(lump, { ...own, tokens: [...own.tokens.slice(0, from), token, ...own.tokens.slice(to)] });
    return true;
  };

  const byKind: Readonly<Record<string, (cells: readonly string[]) => void>> = {
    "programme-name": ([put = "", phrase = ""]) => {
      for (const one of sentences) if (one.text.includes(phrase)) replace(one, phrase, "programme-name", put);
    },
    "name-spelling": ([phrase = "", ...spellings]) => {
      let n = 0;
      for (const one of sentences)
        if (one.text.includes(phrase) && replace(one, phrase, "name-spelling", spellings[n % spellings.length] ?? ""))
          n++;
    },
    "web-address": ([phrase = "", put = ""]) => {
      for (const one of sentences) {
        const spoken = /(\S+ ?\S*) dot (\S+) slash (\S+)|(\S+ ?\S*) punkt (\S+) schrägstrich (\S+)/.exec(
          one.spoken,
        )?.[0];
        if (one.text.includes(phrase) && spoken !== undefined) replaceSpoken(one, spoken, phrase, put);
      }
    },
    "repeated-sentence": ([begins = "", ending = ""]) => repeat(begins, ending),
    loop: ([kind = "", phrase = ""]) => {
      for (const sound of truth.sounds.filter((own) => own.kind === kind)) loop(sound, phrase);
    },
    "credit-line": ([kind = "", put = ""]) => credit(kind, put),
    "timing-stall": ([slug = ""]) => stall(slug),
  };

  function replaceSpoken(sentence: TrueSentence, spoken: string, phrase: string, put: string): void {
    if (!replace(sentence, spoken, "web-address", put)) return;
    const last = faults.at(-1);
    if (last !== undefined) faults[faults.length - 1] = { ...last, truth: phrase };
  }

  function repeat(begins: string, ending: string): void {
    const sentence = sentences.find(({ text }) => text.startsWith(begins));
    const place = sentence === undefined ? null : heardFor(sentence, sentence.spoken, lumps);
    const own = lumps[place?.lump ?? -1];
    if (place === null || own === undefined)
      throw new Error(`${truth.episode}: "${begins}" was not heard in one lump.`);
    const heard = own.tokens.slice(place.from, place.to);
    const kept = heard.slice(0, -ending.split(" ").length).map(({ text }) => text);
    const put = [...kept, ending].join(" ");
    const [at, until] = [heard[0]?.start ?? 0, heard.at(-1)?.end ?? 0];
    const repeats = heard.map(({ text }) => text).join(" ");
    const text = put.charAt(0).toUpperCase() + put.slice(1);
    const fault = add({ kind: "repeated-sentence", at, until, put: text, instead_of: "", repeats });
    const before = own.tokens.slice(0, place.to).map((one, n) => (n === place.to - 1 ? { ...one, stop: true } : one));
    const token = { start: until, end: until, text, stop: true, fault };
    lumps = lumps.with(place.lump, { ...own, tokens: [...before, token, ...own.tokens.slice(place.to)] });
  }

  /** Takes out what was heard in a stretch. @returns its words. */
  function clear(start: number, end: number): string {
    const isIn = (token: Token) => mid(token) >= start && mid(token) <= end;
    const gone = lumps.flatMap(({ tokens }) => tokens.filter(isIn));
    lumps = lumps.flatMap((lump) => {
      if (!lump.tokens.some(isIn)) return [lump];
      const [before, after] = [
        lump.tokens.filter((one) => mid(one) < start),
        lump.tokens.filter((one) => mid(one) > end),
      ];
      return [before, after].filter(({ length }) => length > 0).map(lumpFrom);
    });
    return gone.map(({ text }) => text).join(" ");
  }

  const insert = (more: readonly Lump[]): void => {
    lumps = [...lumps, ...more].sort((a, b) => a.start - b.start);
  };

  function loop({ start, end }: { readonly start: number; readonly end: number }, put: string): void {
    const instead_of = clear(start, end);
    const times = Math.floor((end - start - LOOP.after) / LOOP.step);
    const first = start + LOOP.after;
    const until = first + (times - 1) * LOOP.step + LOOP.lasts;
    const fault = add({ kind: "loop", at: round(first), until: round(until), put, times, instead_of });
    insert(
      Array.from({ length: times }, (_, n) => {
        const at = round(first + n * LOOP.step);
        return lumpFrom([{ start: at, end: round(at + LOOP.lasts), text: put, stop: false, fault }]);
      }),
    );
  }

  function credit(kind: string, put: string): void {
    const sound = truth.sounds.findLast((own) => own.kind === kind);
    if (sound === undefined) throw new Error(`${truth.episode}: there is no ${kind}.`);
    const instead_of = clear(sound.start, sound.end);
    const [at, until] = [round(sound.start + 0.6), round(sound.end - 0.6)];
    const fault = add({ kind: "credit-line", at, until, put, instead_of });
    insert([lumpFrom([{ start: at, end: until, text: put, stop: false, fault }])]);
  }

  function stall(slug: string): void {
    const segment = truth.segments.find((own) => own.slug === slug);
    const whole = lumps.filter(
      ({ start, end, tokens }) =>
        segment !== undefined &&
        start >= segment.in &&
        end <= segment.out &&
        tokens.length >= 40 &&
        tokens.every(({ fault }) => fault === undefined),
    );
    const lump = random.pick(whole);
    const each = Math.ceil(lump.tokens.length / STALL.lumps);
    const until = round(lump.start + (STALL.lumps - 1) * STALL.step + STALL.lasts);
    const fault = add({
      kind: "timing-stall",
      at: lump.start,
      until,
      really_until: lump.end,
      put: "",
      words: lump.tokens.length,
      instead_of: "",
    });
    lumps = lumps.filter((one) => one !== lump);
    insert(
      Array.from({ length: STALL.lumps }, (_, n) => {
        const start = round(lump.start + n * STALL.step);
        const tokens = lump.tokens.slice(n * each, (n + 1) * each).map((token) => ({ ...token, fault }));
        return { start, end: round(start + STALL.lasts), tokens };
      }),
    );
  }

  for (const { kind, cells } of noises) {
    const own = byKind[kind];
    if (own === undefined) throw new Error(`${truth.episode}: ${kind} is no mistake of a recogniser.`);
    own(cells);
  }
  return { lumps, faults: faultsText(truth.episode, faults, lumps) };
}

const round = (seconds: number): number => Math.round(seconds * 1000) / 1000;

function faultsText(episode: string, faults: readonly Fault[], lumps: readonly Lump[]): unknown {
  const marks = lumps.flatMap((lump, n) => {
    const { text, marks: own } = lineOf(lump);
    const indent = indentOf(lump);
    return own.map(({ fault, start, end }) => ({
      fault,
      place: {
        lump: n + 1,
        text: text.slice(start, end),
        txt: { line: n * 2 + 1, start: start + indent, end: end + indent },
        vtt: { line: n * 3 + 4, start, end },
      },
    }));
  });
  const note =
    "Faults put into raw-noisy.txt and raw-noisy.vtt by a program. Lines count from 1, characters within a line from 0, end not included. Times are seconds in the aired clock. raw.txt and raw.vtt have none of these.";
  const own = faults.map((fault) => ({
    ...fault,
    places: marks.filter((mark) => mark.fault === fault.id).map(({ place }) => place),
  }));
  return { episode, note, faults: own };
}
