import { expect, test } from "vitest";
import { EDGE_STATES } from "../../src/model/episode.ts";
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

test.each(EDGE_STATES)("%s: what is written beside an in point is read back", (edgeState) => {
  expect(parseProposal(proposalText(edgeState))).toEqual({ edgeState });
});

test.each([
  ["the mark alone", " proposed", { edgeState: null }],
  ["with figures of another day", " proposed: doubtful, 1 of 2 such were within 9 s", { edgeState: "doubtful" }],
  ["a chance of an earlier day, never measured", " proposed: 96 % sure within 2 s", { edgeState: null }],
  ["an editor's own words after it", " proposed, ask Ilse", { edgeState: null }],
  ["a word that begins like one of ours", " proposed: clearly wrong", { edgeState: null }],
  ["a further line", " proposed\n and a remark", { edgeState: null }],
  ["another comment", " proposed by the desk: clear", null],
  ["a comment before it", " not proposed: clear", null],
])("%s", (_why, comment, wanted) => expect(parseProposal(comment)).toEqual(wanted));

test("what is stated is the table's, all broadcasts together", () => {
  for (const edgeState of EDGE_STATES) {
    const tallies = Object.values(POINTS_MEASURED[edgeState]);
    const [right, of] = [tallies.reduce((n, one) => n + one.right, 0), tallies.reduce((n, one) => n + one.of, 0)];
    expect(pointText(edgeState)).toBe(`${edgeState}, ${right} of ${of} such were within ${NEAR_ENOUGH / 1000} s`);
  }
  const { right, of } = togetherOf(SPEAKERS_MEASURED["among others"]);
  expect(speakerText(speakerKindIn("interview"))).toBe(
    `among others, ${right} of ${of} such sentences were theirs by the words alone`,
  );
  expect(speakerText(speakerKindIn("headlines"))).toMatch(/^alone, /);
});
