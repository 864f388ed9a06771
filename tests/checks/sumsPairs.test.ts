import { describe, expect, test } from "vitest";
import { checkEpisode } from "../../src/checks/index.ts";
import type { Acceptance, Correction, Episode } from "../../src/model/episode.ts";
import { clockMs } from "../../src/model/units.ts";
import { SOMEWHERE } from "./measure/archive.ts";
import { subjectWith, turnsOf } from "./support.ts";

/** A report that is wrong by its own figures, and the words of both halves. */
const REPORTS = [
  [
    "share-disagrees",
    ["A third of members voted against the plan.", "In the end 44 of the 220 members voted against."],
    ["A third", "44 of the 220"],
  ],
  [
    "speed-disagrees",
    ["The current runs at four kilometres every hour.", "In two hours it carries a boat twelve kilometres."],
    ["four kilometres", "twelve kilometres"],
  ],
  [
    "total-disagrees",
    ["A place costs 40 crowns a week.", "Over the twelve weeks that comes to 520 crowns."],
    ["40 crowns", "520 crowns"],
  ],
  [
    "court-sides-differ",
    ["The prosecutor called him a man of good standing.", "The defence said he was a man of good standing."],
    ["The prosecutor called him a man of good standing", "a man of good standing"],
  ],
  [
    "plea-differs",
    ["Osmund Tarrick pleaded guilty in court.", "The sea was calm. Osmund Tarrick denies the theft."],
    ["pleaded guilty", "denies the theft"],
  ],
  [
    "prison-term-differs",
    ["The court jailed Osmund Tarrick for three years.", "He was sentenced to two years."],
    ["three years", "two years"],
  ],
  [
    "count-differs",
    ["Eleven trawlers left the harbour at dawn.", "The nine trawlers were bound for the fishing grounds."],
    ["Eleven trawlers", "nine trawlers"],
  ],
] as const;

const base = {
  id: "2026-10-06-1",
  dated: "2026-10-06T09:00:00.000+01:00",
  segment: "a",
  at: clockMs(0),
  signed: "Standards editor",
  supersedes: null,
  note: "It was said wrong.",
  place: SOMEWHERE,
} as const;

const onAir = (said: string): Correction => ({ ...base, kind: "on-air", said, every: false });
const withdrawn: Correction = { ...base, kind: "withdrawal", at: null };

describe.each(REPORTS)("%s", (rule, texts, halves) => {
  const found = async (episode: Partial<Episode>, checks = {}) =>
    checkEpisode(await subjectWith(turnsOf(texts), { episode, programme: { checks } })).filter(
      (finding) => finding.rule === rule,
    );

  test("tells once, with both places", async () => {
    const [finding, ...more] = await found({});
    expect(more).toEqual([]);
    expect(finding?.see).toHaveLength(1);
    expect(finding?.see?.[0]).not.toEqual(finding?.at);
  });

  test.each(halves)("a correction of “%s” answers it", async (said) => {
    expect(await found({ corrections: [onAir(said)] })).toEqual([]);
  });

  test("an acceptance takes it off, and one of another rule does not", async () => {
    const accepted = (own: string): Acceptance => ({
      rule: own,
      at: null,
      words: null,
      dated: "2026-10-06",
      why: "They are two things.",
      by: "Standards editor",
      place: SOMEWHERE,
    });
    expect(await found({ accepted: [accepted(rule)] })).toEqual([]);
    expect(await found({ accepted: [accepted("phrase-loops")] })).toHaveLength(1);
  });

  test("nothing where the segment is withdrawn, and it is off where the programme says so", async () => {
    expect(await found({ corrections: [withdrawn] })).toEqual([]);
    expect(await found({}, { [rule]: "off" })).toEqual([]);
  });

  test("it is told in a withheld segment too: the words will be published one day", async () => {
    const subject = await subjectWith(turnsOf(texts));
    const segments = subject.episode.segments.map((segment) => ({
      ...segment,
      rights: { withheld: true, until: null, holder: null, show: "nothing" as const },
    }));
    expect(await found({ segments } as Partial<Episode>)).toHaveLength(1);
  });
});
