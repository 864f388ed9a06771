import { describe, expect, test } from "vitest";
import { withoutAccepted } from "../../src/checks/accept.ts";
import { GROUPS } from "../../src/checks/check.ts";
import { explain, listOfChecks } from "../../src/checks/explain.ts";
import { CHECKS, checkEpisode, unknownChecks } from "../../src/checks/index.ts";
import type { Acceptance, Correction } from "../../src/model/episode.ts";
import type { Finding } from "../../src/model/finding.ts";
import { clockMs } from "../../src/model/units.ts";
import { programmeOf, SOMEWHERE } from "./measure/archive.ts";
import { subjectWith, turnsOf } from "./support.ts";

describe("the registry", () => {
  test("every rule has a name of its own, and a page", () => {
    expect(new Set(CHECKS.map(({ name }) => name)).size).toBe(CHECKS.length);
    for (const { name, level, group, reason, looks, example, accept } of CHECKS) {
      expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)+$/);
      expect(["warns", "blocks"]).toContain(level);
      expect(GROUPS).toContain(group);
      for (const text of [reason, looks, example, accept]) expect(text).toMatch(/\S[.””)]$/);
      expect(explain(name)).toContain(reason);
      expect(listOfChecks()).toContain(name);
    }
    expect(explain("no-such-rule")).toBeNull();
  });

  test("every finding has a place, says something and names a mend", async () => {
    const texts = [
      "TET and Elsa Moraine. Stay. Stay. Stay. Stay. Stay. Stay.",
      "He pleaded guilty on Thursday, 7 October. Subtitles by nobody at all.",
    ];
    const findings = checkEpisode(await subjectWith(turnsOf(texts)));
    expect(findings.length).toBeGreaterThan(4);
    for (const { at, says, mend } of findings) {
      expect(at.line).toBeGreaterThan(0);
      expect(at.column).toBeGreaterThan(0);
      expect(says).toMatch(/[.]$/);
      expect(mend).toMatch(/[.]$/);
    }
  });
});

const rulesOf = (findings: readonly Finding[]) =>
  findings.map(({ rule, level }) => `${rule} ${level}`).filter((row) => /initials|acceptance/.test(row));
const TEXT = turnsOf(["This is TET from Sollen."]);

describe("levels of the programme", () => {
  test.each([
    ["as it comes", {}, ["programme-initials warns"]],
    ["off", { "programme-initials": "off" }, []],
    ["blocking", { "programme-initials": "blocks" }, ["programme-initials blocks"]],
  ] as const)("%s", async (_why, checks, rules) => {
    expect(rulesOf(checkEpisode(await subjectWith(TEXT, { programme: { checks } })))).toEqual(rules);
  });

  test("a name that no check has is told of, with the nearest", () => {
    const [finding] = unknownChecks(programmeOf([], { checks: { "count-differ": "off", "count-differs": "off" } }));
    expect(finding?.rule).toBe("check-unknown");
    expect(finding?.mend).toContain("count-differs");
    expect(unknownChecks(programmeOf([]))).toEqual([]);
  });
});

const accepted = (more: Partial<Acceptance>): Acceptance => ({
  rule: "programme-initials",
  at: null,
  words: null,
  dated: "2026-10-06",
  why: "It is another TET.",
  by: "Standards editor",
  place: SOMEWHERE,
  ...more,
});

describe("acceptances", () => {
  test.each<[string, Acceptance, readonly string[]]>([
    ["the rule alone", accepted({}), []],
    ["at its second", accepted({ at: clockMs(700) }), []],
    ["at another second", accepted({ at: clockMs(5000) }), ["programme-initials warns", "acceptance-stale warns"]],
    ["its words, whatever their capitals and stops", accepted({ words: "“tet”," }), []],
    ["other words", accepted({ words: "TED" }), ["programme-initials warns", "acceptance-stale warns"]],
    [
      "the beginning of a word is not the word",
      accepted({ words: "TE" }),
      ["programme-initials warns", "acceptance-stale warns"],
    ],
    ["another rule", accepted({ rule: "count-differs" }), ["programme-initials warns", "acceptance-stale warns"]],
    ["no rule there is", accepted({ rule: "nothing" }), ["programme-initials warns", "acceptance-stale warns"]],
  ])("%s", async (_why, acceptance, rules) => {
    expect(rulesOf(checkEpisode(await subjectWith(TEXT, { episode: { accepted: [acceptance] } })))).toEqual(rules);
  });

  test("what blocks can't be accepted", async () => {
    const setting = {
      programme: { checks: { "programme-initials": "blocks" } },
      episode: { accepted: [accepted({})] },
    } as const;
    expect(rulesOf(checkEpisode(await subjectWith(TEXT, setting)))).toEqual([
      "programme-initials blocks",
      "acceptance-stale warns",
    ]);
  });

  test("a reader's warning can", () => {
    const finding: Finding = {
      rule: "cue-past-end",
      level: "warns",
      at: SOMEWHERE,
      seconds: 3.4,
      says: "Late.",
      mend: "Check.",
    };
    const { left, stale } = withoutAccepted(
      [{ finding, words: null }],
      [accepted({ rule: "cue-past-end", at: clockMs(3000) })],
    );
    expect([left, stale]).toEqual([[], []]);
  });
});

test("a correction that lies on the words answers the doubt", async () => {
  const correction: Correction = {
    kind: "on-air",
    id: "2026-10-06-1",
    dated: "2026-10-06T09:00:00.000+01:00",
    segment: "a",
    at: clockMs(0),
    signed: "Standards editor",
    supersedes: null,
    note: "The 7th is a Wednesday.",
    place: SOMEWHERE,
    said: "Thursday, 7 October",
    every: false,
  };
  const turns = turnsOf(["Come back on Thursday, 7 October, at noon."]);
  const rule = "weekday-not-date";
  const found = async (corrections: readonly Correction[]) =>
    checkEpisode(await subjectWith(turns, { episode: { corrections } })).filter((finding) => finding.rule === rule)
      .length;
  expect(await found([])).toBe(1);
  expect(await found([correction])).toBe(0);
});
