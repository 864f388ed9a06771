import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canonicalJson } from "../../src/record/canonical.ts";
import { digestOf } from "../../src/record/digest.ts";
import {
  auditTexts,
  entered,
  mergedTexts,
  PUBLISHED,
  publicView,
  readTexts,
  type Texts,
  without,
} from "./published.ts";

/** How many changes of each kind are tried. */
const RUNS = 1500;
const RECORD = "record.jsonl";
const FILES = Object.keys(PUBLISHED);
const textOf = (path: string): string => PUBLISHED[path] ?? "";
const earlier = [{ from: "a copy", record: { text: textOf(RECORD) } }];

const file = fc.constantFrom(...FILES);
const place = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
const at = (share: number, length: number): number => Math.floor(share * length);
const letter = fc.oneof(
  fc.constantFrom(..."aeN019:.-> \n{}\"'é"),
  fc.string({ unit: "grapheme", minLength: 1, maxLength: 1 }),
);
const changing = (path: string, to: (text: string) => string): Texts => ({ ...PUBLISHED, [path]: to(textOf(path)) });

/** A character put in, taken out or replaced, in any file. */
const character = fc
  .tuple(file, place, letter, fc.constantFrom(0, 1), fc.boolean())
  .map(([path, share, put, taken, puts]) =>
    changing(
      path,
      (text) =>
        text.slice(0, at(share, text.length)) +
        (puts ? put : "") +
        text.slice(at(share, text.length) + (puts ? taken : 1)),
    ),
  );
/** The same, where it hurts most: in a word, a time or a name of the transcript. */
const spoken = fc
  .tuple(fc.constantFrom("transcript.vtt", "transcript.cy.vtt"), place, fc.constantFrom(..."abcxyz0123456789"))
  .map(([path, share, put]) => {
    const places = [...textOf(path).matchAll(/[\p{L}\p{N}]/gu)].map(({ index }) => index);
    const chosen = places[at(share, places.length)] ?? 0;
    return changing(path, (text) => text.slice(0, chosen) + put + text.slice(chosen + 1));
  });
/** Two blocks of the transcript, or two lines of any file, change places. */
const swap = fc.tuple(file, fc.constantFrom("\n\n", "\n"), place, place).map(([path, by, one, two]) =>
  changing(path, (text) => {
    const blocks = text.split(by);
    const [a, b] = [at(one, blocks.length), at(two, blocks.length)];
    return blocks
      .map((block, index) => (index === a ? (blocks[b] ?? "") : index === b ? (blocks[a] ?? "") : block))
      .join(by);
  }),
);
const dropped = file.map((path) => without(PUBLISHED, path));
const lineDropped = fc.tuple(file, place).map(([path, share]) =>
  changing(path, (text) => {
    const lines = text.split("\n");
    return lines.toSpliced(at(share, lines.length), 1).join("\n");
  }),
);
/** A file takes another's place. */
const exchanged = fc.tuple(file, file).map(([a, b]) => ({ ...PUBLISHED, [a]: textOf(b) }));

type Line = Record<string, unknown>;
const someDigest = fc.constantFrom(digestOf(""), digestOf("x"), digestOf(textOf("transcript.vtt")));
/** A member of a line of the record changed, and the line written well; `remade`: and all links after it made to hold. */
const rewritten = fc
  .tuple(
    place,
    place,
    fc.oneof(someDigest, fc.constantFrom<unknown>(null, 7, "2026-10-07T00:00:00.000Z", "corrected", {}, [])),
    fc.boolean(),
  )
  .map(([share, member, value, remade]) =>
    changing(RECORD, (text) => {
      const lines = text
        .trimEnd()
        .split("\n")
        .map((line) => JSON.parse(line) as Line);
      const own = lines[at(share, lines.length)] ?? {};
      const name = Object.keys(own)[at(member, Object.keys(own).length)] ?? "";
      own[name] = value;
      return chained(lines, remade ? at(share, lines.length) : lines.length);
    }),
  );
/** What is published changed, and the record made anew from a line on so that it agrees. */
const forged = fc.tuple(spoken, place).map(([texts, share]) => {
  const lines = textOf(RECORD)
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line) as Line);
  const from = at(share, lines.length);
  for (const line of lines.slice(from)) {
    line.transcript = digestOf(texts["transcript.vtt"] ?? "");
    line.translations = { "transcript.cy.vtt": digestOf(texts["transcript.cy.vtt"] ?? "") };
  }
  return { ...texts, [RECORD]: chained(lines, from) };
});

/** Lines as text, linked anew after the line `from`. */
function chained(lines: readonly Line[], from: number): string {
  const texts: string[] = [];
  for (const [index, line] of lines.entries()) {
    const before = texts.at(-1);
    texts.push(canonicalJson(index > from && before !== undefined ? { ...line, prev: digestOf(before) } : line));
  }
  return texts.map((text) => `${text}\n`).join("");
}

const view = publicView(PUBLISHED);

describe(`${RUNS} single changes: each that the public could notice is found`, () => {
  let noticed = 0;
  test("of files and lines", { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(fc.oneof(character, spoken, swap, dropped, lineDropped, exchanged, rewritten, forged), (texts) => {
        if (publicView(texts) === view) return;
        noticed += 1;
        expect(auditTexts(texts, { earlier })).not.toEqual([]);
      }),
      { numRuns: RUNS },
    );
    expect(noticed).toBeGreaterThan(RUNS / 2);
  });
});

test("without an earlier copy, every change of a word, time or speaker is found all the same", {
  timeout: 600_000,
}, () => {
  fc.assert(
    fc.property(spoken, (texts) => {
      if (publicView(texts) !== view) expect(auditTexts(texts)).not.toEqual([]);
    }),
    { numRuns: Math.ceil(RUNS / 10) },
  );
});

test("no change that a correction covers is found", { timeout: 600_000 }, () => {
  const words = (textOf("transcript.vtt").match(/[\p{L}’]{4,}/gu) ?? []).filter(
    (word) => !/^(Tamsin|Hathersay|Ilse|Marrane|WEBVTT|align|start|lang)$/.test(word),
  );
  const one = fc.record({
    kind: fc.constantFrom("on-air", "transcript", "update", "withdrawal"),
    said: fc.constantFrom(...words),
    now: fc.constantFrom("nine", "Ruan Skelland", "a week"),
    segment: fc.constantFrom("headlines", "ferry-timetable", "close"),
  });
  const written = ({
    kind,
    said,
    now,
    segment,
  }: {
    kind: string;
    said: string;
    now: string;
    segment: string;
  }): string => {
    const front =
      kind === "withdrawal"
        ? `segment: ${segment}`
        : `every: true\nsaid: ${said}${kind === "transcript" ? `\nnow: ${now}` : ""}`;
    return `---\ndated: 2026-10-10T09:00:00\nkind: ${kind}\n${front}\nsigned: Me\n---\nA note.\n`;
  };
  fc.assert(
    fc.property(fc.array(one, { minLength: 1, maxLength: 3 }), (all) => {
      const files = Object.fromEntries(
        all.map((own, index) => [`corrections/2026-10-10-${index + 1}.md`, written(own)]),
      );
      const texts = entered({ ...PUBLISHED, ...files }, "2026-10-11T08:00:00.000Z");
      expect(readTexts(texts).record.lines).toHaveLength(4 + all.length);
      expect(publicView(texts)).not.toBe(view);
      expect(auditTexts(texts, { earlier })).toEqual([]);
    }),
    { numRuns: Math.ceil(RUNS / 10) },
  );
});

describe("two records that became one", () => {
  const more = (day: number, said: string): Texts => {
    const note = `---\ndated: 2026-10-${day}T09:00:00\nkind: on-air\nevery: true\nsaid: ${said}\nsigned: Me\n---\nA note.\n`;
    return entered({ ...PUBLISHED, [`corrections/2026-10-${day}-1.md`]: note }, `2026-10-${day}T12:00:00.000Z`);
  };
  const [ours, theirs] = [more(10, "harbour"), more(11, "Rowan")];
  const both = mergedTexts(ours, theirs);
  const records = Object.keys(both).filter((path) => path.endsWith(".jsonl"));
  const copies = [ours, theirs, both].map((texts) => ({ from: "a copy", record: { text: texts[RECORD] ?? "" } }));

  test("go on from either copy", () => {
    expect(records).toHaveLength(2);
    expect(auditTexts(both, { earlier: copies })).toEqual([]);
  });

  test("any change of a sign or a line of either is found", { timeout: 600_000 }, () => {
    const changed = fc.tuple(fc.constantFrom(...records), place, letter, fc.constantFrom("sign", "line", "file"));
    fc.assert(
      fc.property(changed, ([path, share, put, what]) => {
        const text = both[path] ?? "";
        const lines = text.split("\n").slice(0, -1);
        const to = {
          sign: text.slice(0, at(share, text.length)) + put + text.slice(at(share, text.length) + 1),
          line: lines
            .toSpliced(at(share, lines.length), 1)
            .map((line) => `${line}\n`)
            .join(""),
          file: "",
        }[what];
        if (to === text) return;
        const texts = what === "file" ? without(both, path) : { ...both, [path]: to ?? "" };
        expect(auditTexts(texts, { earlier: copies })).not.toEqual([]);
      }),
      { numRuns: RUNS },
    );
  });
});

test("line ends that version control turned are told as that, whatever file it is, and nothing else", () => {
  for (const path of FILES) {
    const found = auditTexts(
      changing(path, (text) => text.replaceAll("\n", "\r\n")),
      { earlier },
    );
    expect(
      found.map(({ rule }) => rule),
      path,
    ).toEqual(["line-ends-changed"]);
  }
});
