import { expect, test } from "vitest";
import type { Standing } from "../../src/model/episode.ts";
import {
  NEAR_ENOUGH,
  POINTS_MEASURED,
  parseProposal,
  pointText,
  proposalText,
  SPEAKERS_MEASURED,
  speakerKindIn,
  speakerText,
  togetherOf,
} from "../../src/model/proposal.ts";

const STANDINGS: readonly Standing[] = ["at a cut", "clear", "doubtful"];

test.each(STANDINGS)("%s: what is written beside an in point is read back", (standing) => {
  expect(parseProposal(proposalText(standing))).toEqual({ standing });
});

test.each([
  ["the mark alone", " proposed", { standing: null }],
  ["with figures of another day", " proposed: doubtful, 1 of 2 such were within 9 s", { standing: "doubtful" }],
  ["a chance of an earlier day, never measured", " proposed: 96 % sure within 2 s", { standing: null }],
  ["an editor's own words after it", " proposed, ask Ilse", { standing: null }],
  ["a word that begins like one of ours", " proposed: clearly wrong", { standing: null }],
  ["a further line", " proposed\n and a remark", { standing: null }],
  ["another comment", " proposed by the desk: clear", null],
  ["a comment before it", " not proposed: clear", null],
])("%s", (_why, comment, wanted) => expect(parseProposal(comment)).toEqual(wanted));

test("what is stated is the table's, all broadcasts together", () => {
  for (const standing of STANDINGS) {
    const tallies = Object.values(POINTS_MEASURED[standing]);
    const [right, of] = [tallies.reduce((n, one) => n + one.right, 0), tallies.reduce((n, one) => n + one.of, 0)];
    expect(pointText(standing)).toBe(`${standing}, ${right} of ${of} such were within ${NEAR_ENOUGH / 1000} s`);
  }
  const { right, of } = togetherOf(SPEAKERS_MEASURED["among others"]);
  expect(speakerText(speakerKindIn("interview"))).toBe(`among others, ${right} of ${of} such sentences were theirs`);
  expect(speakerText(speakerKindIn("headlines"))).toMatch(/^alone, /);
});
