import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Answered, chosenIn, countOf, GROUPS, type Group } from "../../src/browser/counting.ts";
import { type Query, readQuery } from "../../src/browser/query.ts";
import { type Hit, rank } from "../../src/browser/rank.ts";

type Segment = Readonly<Record<Group, readonly string[]>> & { readonly id: string; readonly says: readonly number[] };

const HIT: Hit = { score: 1, places: [], fields: [] };
const word = (text: string) => ({ is: "word" as const, text, terms: [text] });
const asking = (clauses: number) => ({
  clauses: Array.from({ length: clauses }, (_, at) => word(`w${at}`)),
  whole: null,
  typed: [],
});
const query = (address: string): Query => readQuery(new URLSearchParams(address));

function answered(tiers: readonly (readonly Segment[])[], clauses: number): Answered {
  return {
    asked: asking(clauses),
    tiers: tiers.map((segments) => ({
      hits: { clauses: hitsOf(segments, clauses) },
      having: (group, value) => new Set(segments.filter((own) => own[group].includes(value)).map(({ id }) => id)),
    })),
  };
}

const hitsOf = (segments: readonly Segment[], clauses: number) =>
  Array.from({ length: clauses }, (_, at) => ({
    byId: new Map(segments.filter(({ says }) => says.includes(at)).map(({ id }) => [id, HIT])),
    begins: false,
  }));

/** As a search goes about it: narrowed by the index, then ranked. */
function searched(tiers: readonly (readonly Segment[])[], clauses: number, asked: Query): number {
  const chosen = chosenIn(asked);
  const isWanted = (own: Segment) =>
    GROUPS.every((group) => chosen[group].length === 0 || chosen[group].some((value) => own[group].includes(value)));
  const found = tiers.map((segments) => {
    const kept = segments.filter(isWanted);
    const records = new Map(kept.map((own) => [own.id, own]));
    return { size: kept.length, whole: new Map<string, Hit>(), records, clauses: hitsOf(segments, clauses) };
  });
  return clauses === 0 ? found.reduce((sum, { size }) => sum + size, 0) : rank(found, []).length;
}

/** The query with this value alone in its group. */
const choosing = (asked: Query, group: Group, value: string): Query =>
  group === "corrected"
    ? { ...asked, corrected: true }
    : group === "kind"
      ? { ...asked, kinds: [value] }
      : { ...asked, [group]: value };

const segment = (id: string, own: Partial<Segment>): Segment => ({
  id,
  says: [0],
  speaker: [],
  topic: [],
  place: [],
  kind: ["package"],
  corrected: [],
  ...own,
});

describe("how many segments a choice leaves", () => {
  const ilse = segment("a", { speaker: ["Ilse", "Osmund"], place: ["Sollen"], says: [0, 1] });
  const osmund = segment("b", { speaker: ["Osmund"], kind: ["agency"], corrected: ["1"] });
  const tamsin = segment("c", { speaker: ["Tamsin"], place: ["Sollen"], says: [1] });
  const tiers = [[ilse], [osmund, tamsin]];

  test.each([
    ["in all tiers", "?q=w0", "speaker", "Osmund", 1, 2],
    ["with the other groups", "?q=w0&place=Sollen", "speaker", "Osmund", 1, 1],
    ["in the place of its own", "?q=w0&speaker=Ilse", "speaker", "Osmund", 1, 2],
    ["a box for itself, whatever is ticked beside it", "?q=w0&kind=package", "kind", "agency", 1, 1],
    ["with any of the boxes of another group", "?q=w0&kind=package&kind=agency", "corrected", "1", 1, 1],
    ["what has both words", "?q=w0+w1", "place", "Sollen", 2, 1],
    ["what is near, where nothing has both", "?q=w0+w1", "speaker", "Tamsin", 2, 1],
    ["without words, all", "?place=Sollen", "kind", "package", 0, 2],
    ["nobody", "?q=w0", "speaker", "Nobody", 1, 0],
  ] as const)("%s", (_why, address, group, value, clauses, count) => {
    expect(countOf([answered(tiers, clauses)], query(address), group, value)).toBe(count);
  });

  test("what was meant, and what was typed where nothing has that", () => {
    const answers = [answered([[ilse]], 1), answered(tiers, 1)];
    expect(countOf(answers, query("?q=w0"), "speaker", "Osmund")).toBe(1);
    expect(countOf(answers, query("?q=w0"), "kind", "agency")).toBe(1);
  });

  test("is what the search has when it is chosen", () => {
    const some = (...values: readonly string[]) => fc.subarray([...values]);
    const any = fc.record({
      speaker: some("a", "b", "c"),
      topic: some("a", "b"),
      place: some("a", "b"),
      kind: fc.constantFrom(["a"], ["b"], ["c"]),
      corrected: some("1"),
      says: fc.subarray([0, 1, 2]),
    });
    const archive = fc
      .array(fc.array(any, { maxLength: 6 }), { maxLength: 3 })
      .map((all) => all.map((own, tier) => own.map((one, at): Segment => ({ ...one, id: `${tier}-${at}` }))));
    const asks = fc.record({
      speaker: fc.constantFrom(null, null, "a", "b"),
      topic: fc.constantFrom(null, "a"),
      place: fc.constantFrom(null, null, "b"),
      kinds: some("a", "b"),
      corrected: fc.boolean(),
    });
    const choice = fc.constantFrom<readonly [Group, string]>(
      ["speaker", "a"],
      ["speaker", "c"],
      ["topic", "b"],
      ["place", "a"],
      ["kind", "b"],
      ["corrected", "1"],
    );
    fc.assert(
      fc.property(archive, asks, choice, fc.nat(3), (segments, narrowed, [group, value], clauses) => {
        const asked = { ...query(clauses === 0 ? "" : "?q=w"), ...narrowed };
        expect(countOf([answered(segments, clauses)], asked, group, value)).toBe(
          searched(segments, clauses, choosing(asked, group, value)),
        );
      }),
      { numRuns: 1000 },
    );
  });
});
