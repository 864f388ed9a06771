import { cp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { publish } from "../../src/cli/publish.ts";
import { blocks } from "../../src/model/finding.ts";
import { nodeFiles } from "../../src/write/files.ts";
import { DEMO, withoutOwn } from "../support/site.ts";

export const MOVES = [
  "transcript",
  "on-air",
  "update",
  "title",
  "in",
  "out",
  "withdraw",
  "withdraw the episode",
  "rights",
  "reissue",
] as const;

/** What may happen to an evening; the numbers choose among what is there. */
export interface Move {
  readonly what: (typeof MOVES)[number];
  readonly item: number;
  readonly line: number;
}

/** An evening in a content folder that things happen to, a day each. */
export interface Evening {
  readonly content: string;
  /** What the program refuses does not happen. @returns whether it did. */
  happen(move: Move): Promise<boolean>;
  /** A day from the evening to the one after something last happened. */
  dayAt(n: number): string;
  /** What is said in a line. */
  said(line: number): string;
  /** Words that must be nowhere on a day: said only in what is withheld or withdrawn then, in every text. */
  heldOn(day: string): readonly string[];
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}
interface Item {
  readonly slug: string;
  readonly in: number;
  readonly out: number;
  readonly title: string;
  readonly rights: string | null;
}
interface Line {
  readonly start: number;
  readonly words: readonly string[];
}
/** A text as it was published. Times in seconds. */
interface Written {
  readonly items: readonly Item[];
  readonly lines: readonly Line[];
}
/** All that is so on a day. */
interface State extends Written {
  readonly earlier: readonly Written[];
  /** The items with their corrections. */
  readonly corrected: readonly Item[];
  /** Where an item of the present text stood until now. */
  readonly stood: readonly (Stretch & { readonly slug: string })[];
  /** Withdrawn stretches, and the words of withdrawn titles. */
  readonly away: readonly Stretch[];
  readonly awayTitles: readonly string[];
  /** Words that corrections put into a line, by its place. */
  readonly put: readonly { readonly line: number; readonly words: readonly string[] }[];
  readonly isGone: boolean;
}

const ID = "2026-10-05";
const STEP = 5;
const LINES = 4;
const SYLLABLES = ["bo", "ku", "li", "mo", "nu", "po", "ry", "su", "ti", "vo", "wy", "zu"];
const BECAUSE = 'sound: in-file, because: "It was agreed."';

/** A word that stands nowhere else, in no template and in no other word. */
const wordOf = (n: number): string =>
  `q${[n / 144, n / 12, n].map((digit) => SYLLABLES[Math.floor(digit) % 12]).join("")}x`;
const two = (n: number): string => String(n).padStart(2, "0");
const clock = (seconds: number): string => `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
const stamp = (seconds: number): string => `00:${two(Math.floor(seconds / 60))}:${two(seconds % 60)}.000`;
const dayOf = (n: number): string => new Date(Date.UTC(2026, 9, 5 + n)).toISOString().slice(0, 10);
const spanOf = (item: Item) => ({ slug: item.slug, from: item.in, to: item.out });

function rightsOf(n: number): string | null {
  if (n % 4 === 0) return `{ withheld: true, show: nothing, ${BECAUSE} }`;
  if (n % 4 === 1) return `{ withheld: true, until: ${dayOf(n % 11)}, show: nothing, ${BECAUSE} }`;
  return n % 4 === 2 ? `{ withheld: true, show: transcript, ${BECAUSE} }` : null;
}
function isSilent(rights: string | null, day: string): boolean {
  const until = /until: ([\d-]+)/.exec(rights ?? "")?.[1];
  return rights?.includes("show: nothing") === true && (until === undefined || day < until);
}

/** Publishes an evening of some items with four lines each. @param rights of each item, by number. */
export async function newEvening(content: string, guessed: boolean, rights: readonly number[]): Promise<Evening> {
  const folder = join(content, "episodes/2026", ID);
  let [words, today] = [0, 0];
  const phrase = (length: number): string[] => Array.from({ length }, () => wordOf(words++));
  let state = begun(rights, phrase);
  await copyProgramme(content);
  await write(state);
  if (!(await enter(null))) throw new Error("The evening can't be published.");

  async function write({ items, lines }: Written): Promise<void> {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, "episode.md"), frontOf(items, lines.length * STEP, guessed));
    const cues = lines.map(({ start, words: own }) => {
      return `${stamp(start)} --> ${stamp(start + STEP)}\n<v Ilse Marrane>${own.join(" ")}\n`;
    });
    await writeFile(join(folder, "transcript.vtt"), `WEBVTT\n\n${cues.join("\n")}`);
  }

  async function enter(reissue: { reason: string; earlier: string } | null): Promise<boolean> {
    const now = new Date(`${dayOf(today)}T21:00:00Z`);
    const io = { out() {}, err() {}, now, clock: () => now, ask: null, files: nodeFiles };
    const options = { content, episode: ID, reissue, repair: false, dryRun: false, checks: () => [] };
    return !(await publish(options, io)).some(blocks);
  }

  async function correct(kind: string, facts: readonly string[], note = "We put it right."): Promise<boolean> {
    const front = [`dated: ${dayOf(today)}T09:00:00`, `kind: ${kind}`, ...facts, "signed: Standards editor"].join("\n");
    await mkdir(join(folder, "corrections"), { recursive: true });
    await writeFile(join(folder, `corrections/${dayOf(today)}-1.md`), `---\n${front}\n---\n${note}\n`);
    return enter(null);
  }

  async function reissue(next: Written, kept: string): Promise<State | null> {
    // Where points were corrected, only the program can say where the new text's items stand.
    if (state.stood.length > state.items.length) return null;
    await write(next);
    if (!(await enter({ reason: "It is better so.", earlier: kept }))) return null;
    const titles = new Map(state.corrected.map(({ slug, title }) => [slug, title]));
    const corrected = next.items.map((own) => ({ ...own, title: titles.get(own.slug) ?? own.title }));
    const earlier = [...state.earlier, { items: state.items, lines: state.lines }];
    return { ...state, ...next, earlier, corrected, stood: next.items.map(spanOf) };
  }

  /** What comes of a move; null: it is refused, or is none. */
  async function after({ what, item: i, line: l }: Move, kept: string): Promise<State | null> {
    const at = i % state.items.length;
    const place = l % state.lines.length;
    const [item, line] = [state.corrected[at], state.lines[place]];
    if (item === undefined || line === undefined) return null;
    const home = state.corrected.find((own) => own.in <= line.start && line.start < own.out) ?? item;
    const there = [`segment: ${home.slug}`, `at: ${clock(line.start)}`];
    const replaced = (own: Item) => state.corrected.map((one) => (one === item ? own : one));
    switch (what) {
      case "transcript": {
        const now = phrase(2);
        const facts = [...there, `said: ${line.words.slice(1, 3).join(" ")}`, `now: ${now.join(" ")}`];
        if (!(await correct(what, facts))) return null;
        return { ...state, put: [...state.put, { line: place, words: now }] };
      }
      case "on-air":
        return (await correct(what, [...there, `said: ${line.words.slice(3, 5).join(" ")}`])) ? state : null;
      case "update": {
        const note = `We said “${line.words.join(" ")}”, and stand by it.`;
        return (await correct(what, [`segment: ${item.slug}`], note)) ? state : null;
      }
      case "title": {
        const title = phrase(4).join(" ");
        const facts = [`segment: ${item.slug}`, "field: title", `said: ${item.title}`, `now: ${title}`];
        return (await correct("page", facts)) ? { ...state, corrected: replaced({ ...item, title }) } : null;
      }
      case "in":
      case "out": {
        const to = item[what] + ((l % 5) - 2) * STEP;
        const facts = [`segment: ${item.slug}`, `field: ${what}`, `said: ${clock(item[what])}`, `now: ${clock(to)}`];
        if (to < 0 || to === item[what] || !(await correct("page", facts))) return null;
        const corrected = replaced({ ...item, [what]: to }).map((own, index) => {
          return what === "in" && index === at - 1 && own.out === item.in ? { ...own, out: to } : own;
        });
        // Of what is withdrawn, a point that would lie in a neighbour is entered, and moves nothing.
        const isOver = corrected.some((own, index) => index > 0 && (corrected[index - 1]?.out ?? 0) > own.in);
        if (isOver || corrected.some((own) => own.in >= own.out)) return state;
        return { ...state, corrected, stood: [...state.stood, ...corrected.map(spanOf)] };
      }
      case "withdraw": {
        if (!(await correct("withdrawal", [`segment: ${item.slug}`]))) return null;
        const all = [...state.earlier.flatMap(({ items }) => items), ...state.items, ...state.corrected];
        const titles = all.filter(({ slug }) => slug === item.slug).flatMap(({ title }) => title.split(" "));
        return { ...state, away: [...state.away, spanOf(item)], awayTitles: [...state.awayTitles, ...titles] };
      }
      case "withdraw the episode":
        return l % 3 === 0 && (await correct("withdrawal", [])) ? { ...state, isGone: true } : null;
      case "rights": {
        const own = { rights: rightsOf(l) };
        const items = state.items.map((one, index) => (index === at ? { ...one, ...own } : one));
        await write({ items, lines: state.lines });
        return { ...state, items };
      }
      case "reissue":
        return reissue(
          rewritten(state, at, l, () => wordOf(words++)),
          kept,
        );
    }
  }

  return {
    content,
    async happen(move) {
      today++;
      const kept = join(content, "../kept");
      await rm(kept, { recursive: true, force: true });
      await cp(folder, kept, { recursive: true });
      // What was already withdrawn has no such words or segments, or nothing would be another: said by throwing.
      const next = await after(move, kept).catch(() => null);
      if (next === null) {
        await rm(folder, { recursive: true });
        await cp(kept, folder, { recursive: true });
        return false;
      }
      state = next;
      return true;
    },
    dayAt: (n) => dayOf(n % (today + 2)),
    said: (line) => state.lines[line]?.words.join(" ") ?? "",
    heldOn: (day) => heldOn(state, day),
  };
}

async function copyProgramme(content: string): Promise<void> {
  for (const name of ["programme.md", "poster.svg", "pages"])
    await cp(join(DEMO, name), join(content, name), { recursive: true });
  const file = join(content, "programme.md");
  const hosts = "mediahosts: [https://media.example.org]\nframerate:";
  await writeFile(file, withoutOwn(await readFile(file, "utf8")).replace("framerate:", hosts));
}

function begun(rights: readonly number[], phrase: (length: number) => string[]): State {
  const length = LINES * STEP;
  const items = rights.map((own, n): Item => {
    const title = phrase(4).join(" ");
    return { slug: `item-${n}`, in: n * length, out: (n + 1) * length, title, rights: rightsOf(own) };
  });
  const lines = Array.from({ length: rights.length * LINES }, (_, n) => ({ start: n * STEP, words: phrase(6) }));
  const nothing = { earlier: [], away: [], awayTitles: [], put: [], isGone: false };
  return { ...nothing, items, lines, corrected: items, stood: items.map(spanOf) };
}

/** A text with a word, a slug or an in point changed. */
function rewritten({ items, lines }: Written, at: number, n: number, word: () => string): Written {
  if (n % 3 === 0) {
    const own = (line: Line) => ({ ...line, words: [...line.words.slice(0, 5), word()] });
    return { items, lines: lines.map((line, index) => (index === n % lines.length ? own(line) : line)) };
  }
  return {
    lines,
    items: items.map((one, index) => {
      if (n % 3 === 1) return index === at ? { ...one, slug: `${one.slug}-again` } : one;
      if (at > 0 && index === at) return { ...one, in: one.in + STEP };
      return at > 0 && index === at - 1 ? { ...one, out: one.out + STEP } : one;
    }),
  };
}

function frontOf(items: readonly Item[], duration: number, guessed: boolean): string {
  const segments = items.map(({ slug, title, in: from, out, rights }) => {
    const own = rights === null ? "" : `, rights: ${rights}`;
    return `  - { slug: ${slug}, kind: reader, title: ${title}, in: ${clock(from)}, out: ${clock(out)}${own} }\n`;
  });
  return `---
title: An evening
aired: ${ID}T18:30:00
duration: ${clock(duration)}
media: [{ src: "https://media.example.org/a.mp3", type: audio/mpeg }]
${guessed ? "times: guessed\n" : ""}clock: media
segments:
${segments.join("")}---
`;
}

function heldOn(
  { earlier, items, lines, stood, away, awayTitles, put, isGone }: State,
  day: string,
): readonly string[] {
  const silent = items.filter((own) => isSilent(own.rights, day)).map(({ slug }) => slug);
  const given = new Set<string>();
  const held = new Set<string>(awayTitles);
  for (const text of [...earlier, { items, lines }]) {
    const own = [...stood, ...text.items.map(spanOf)].filter(({ slug }) => silent.includes(slug));
    for (const [place, line] of text.lines.entries()) {
      const ends = line.start + STEP;
      const isHeld = isGone || [...own, ...away].some(({ from, to }) => from <= line.start && ends <= to);
      const corrected = text.lines === lines ? put.filter((one) => one.line === place).flatMap((one) => one.words) : [];
      for (const word of [...line.words, ...corrected]) (isHeld ? held : given).add(word);
    }
  }
  return [...held].filter((word) => !given.has(word));
}
