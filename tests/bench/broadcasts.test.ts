import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ownProgramme } from "../support/ownProgramme.ts";
import { orderText, sayingsOf, type Truth, truthText } from "./broadcasts/lay.ts";
import { lumpsOf, textOf, vttOf } from "./broadcasts/lumps.ts";
import { BROADCASTS, namesIn, scriptOf } from "./broadcasts/make.ts";
import { noisyFrom } from "./broadcasts/noisy.ts";
import { sayableOf, spokenOf, writtenOf } from "./broadcasts/spoken.ts";
import { VOICES } from "./broadcasts/voices.ts";

const ids = readdirSync(BROADCASTS).filter((id) => existsSync(join(BROADCASTS, id, "script.txt")));
const names = namesIn(readFileSync(join(BROADCASTS, "names.csv"), "utf8"));
const textIn = (id: string, file: string): string => readFileSync(join(BROADCASTS, id, file), "utf8");
const truthOf = (id: string): Truth => JSON.parse(textIn(id, "truth.json"));

interface AirFault {
  readonly segment: string;
  readonly speaker: string;
  readonly at: number;
  readonly until: number;
  readonly said: string;
  readonly sentence: string;
}
interface NoisyFault {
  readonly id: string;
  readonly kind: string;
  readonly places: readonly {
    readonly text: string;
    readonly txt: { readonly line: number; readonly start: number; readonly end: number };
    readonly vtt: { readonly line: number; readonly start: number; readonly end: number };
  }[];
}

describe.each(ids)("the broadcast %s", (id) => {
  const truth = truthOf(id);
  const sentences = truth.turns.flatMap((turn) => turn.sentences);

  it("has the sentences of its script, in order", async () => {
    const script = await scriptOf(id);
    expect(sentences.map(({ spoken }) => spoken)).toEqual(sayingsOf(script).map(({ sayable }) => spokenOf(sayable)));
    expect(textIn(id, "truth.txt")).toBe(truthText(truth));
    expect(textIn(id, "order.csv")).toBe(orderText(truth));
  });

  it("has segments that touch, and everything said inside its own", () => {
    expect(truth.segments[0]?.in).toBe(0);
    expect(truth.segments.at(-1)?.out).toBe(truth.duration);
    truth.segments.slice(1).forEach((own, n) => {
      expect(own.in).toBe(truth.segments[n]?.out);
    });
    for (const { segment, start, end } of truth.turns) {
      const own = truth.segments.find(({ slug }) => slug === segment);
      expect(start).toBeGreaterThanOrEqual(own?.in ?? Number.POSITIVE_INFINITY);
      expect(end).toBeLessThanOrEqual(own?.out ?? 0);
    }
    sentences.slice(1).forEach(({ start }, n) => {
      expect(start).toBeGreaterThan(sentences[n]?.end ?? Number.POSITIVE_INFINITY);
    });
  });

  it("has only speakers of the register, each with a voice, and a presenter", () => {
    for (const { speaker } of truth.turns) {
      expect(names).toContain(speaker);
      expect(VOICES).toHaveProperty([speaker]);
    }
    expect(ownProgramme(join(BROADCASTS, id))?.presenters).toContain(truth.turns[0]?.speaker);
  });

  it("has mistakes on air that are said where the list says", async () => {
    const script = await scriptOf(id);
    const { faults }: { faults: AirFault[] } = JSON.parse(textIn(id, "on-air-faults.json"));
    expect(faults.map(({ said }) => said)).toEqual(script.faults.map(({ said }) => said));
    for (const { segment, speaker, at, until, said, sentence } of faults) {
      const turn = truth.turns.find((own) => own.segment === segment && own.start <= at && until <= own.end);
      expect(turn?.speaker).toBe(speaker);
      expect(turn?.sentences).toContainEqual(expect.objectContaining({ start: at, end: until, text: sentence }));
      expect(sentence).toContain(said);
    }
  });

  it("has raw texts that are made of the recogniser's words, and mistakes that stand where the list says", async () => {
    const lumps = lumpsOf(JSON.parse(textIn(id, "raw.words.json")));
    expect(textIn(id, "raw.txt")).toBe(textOf(lumps));
    expect(textIn(id, "raw.vtt")).toBe(vttOf(lumps));
    const { noises, seed } = await scriptOf(id);
    const noisy = noisyFrom(truth, noises, lumps, seed);
    const faults: NoisyFault[] = JSON.parse(textIn(id, "faults.json")).faults;
    expect(noisy.faults).toEqual(JSON.parse(textIn(id, "faults.json")));
    const [txt, vtt] = ["raw-noisy.txt", "raw-noisy.vtt"].map((file) => textIn(id, file).split("\n"));
    for (const { places } of faults) {
      expect(places).not.toEqual([]);
      for (const place of places) {
        expect(txt?.[place.txt.line - 1]?.slice(place.txt.start, place.txt.end)).toBe(place.text);
        expect(vtt?.[place.vtt.line - 1]?.slice(place.vtt.start, place.vtt.end)).toBe(place.text);
      }
    }
    expect(new Set(faults.map(({ kind }) => kind))).toEqual(new Set(noises.map(({ kind }) => kind)));
  });
});

describe("figures as they are said", () => {
  it.each([
    [
      "since 1989, and 1,989 in 2005",
      "since nineteen eighty nine and one thousand nine hundred and eighty nine in two thousand and five",
    ],
    ["at 6.08, 4–0, on 3 November", "at six oh eight four nil on the third of november"],
    ["2.3 million, and {BB|double B}", "two point three million and double b"],
  ])("%s", (text, said) => {
    expect(spokenOf(sayableOf(text, "en-GB"))).toBe(said);
  });

  it("are said in German too", () => {
    const said = "der vierte november um achtzehn uhr dreißig zwei zu eins eins komma fünf";
    expect(spokenOf(sayableOf("der 4. November um 18.30 Uhr, 2:1, 1,5", "de-DE"))).toBe(said);
  });

  it("stay as they are written in the edited text", () => {
    expect(writtenOf("write to {a.example/b|a dot example slash b}.")).toBe("write to a.example/b.");
  });
});
