import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { joinStories, type StorySegment, tellingWords } from "../../src/derive/stories.ts";

/** `2026-10-05/treasurer`, its title and summary, topics, and places and people. */
function segment(
  id: string,
  text: string,
  topics: readonly string[],
  names: readonly string[] = [],
  more: Partial<StorySegment> = {},
): StorySegment {
  const [episode = "", slug = ""] = id.split("/");
  return { episode, slug, kind: "package", topics, names, words: tellingWords(text), story: null, ...more };
}

const COURT = segment("2026-10-05/treasurer", "Former ferry charity treasurer in court", ["courts"], ["sollen"]);
const BAIL = segment("2026-10-07/bail", "Bail for the former charity treasurer", ["courts"], ["sollen"]);
const storiesIn = (...all: readonly StorySegment[]) => joinStories(all, []).stories;
const JOINED = { "2026-10-05-treasurer": ["2026-10-05/treasurer", "2026-10-07/bail"] };

describe("what is joined", () => {
  test.each([
    ["one matter on two evenings", BAIL, true],
    [
      "another case in the same court and town",
      segment("2026-10-07/boat", "Skipper fined over a rope", ["courts"], ["sollen"]),
      false,
    ],
    ["the same words of another topic", { ...BAIL, topics: ["music"] }, false],
    ["no topic at all", { ...BAIL, topics: [] }, false],
    ["one word and two places", segment("2026-10-07/sale", "A charity sale", ["courts"], ["sollen", "hallan"]), false],
    ["two words and nothing more", segment("2026-10-07/x", "Charity treasurer", ["courts"], ["ostrey"]), false],
    ["two words and a place", segment("2026-10-07/x", "Charity treasurer", ["courts"], ["sollen"]), true],
    ["after three weeks", { ...BAIL, episode: "2026-10-26" }, true],
    ["a day more", { ...BAIL, episode: "2026-10-27" }, false],
    ["the second edition of the same day", { ...BAIL, episode: "2026-10-05-late" }, false],
    ["headlines of it", { ...BAIL, kind: "headlines" as const }, false],
    ["kept out of any story", { ...BAIL, story: "none" }, false],
  ])("%s", (_why, later, isJoined) => {
    expect(Object.keys(storiesIn(COURT, later)).length).toBe(isJoined ? 1 : 0);
  });

  test.each(["headlines", "weather", "sport", "close", "round-up"] as const)(
    "%s of every evening is no story",
    (kind) => {
      const evenings = ["05", "06", "07"].map((day) =>
        segment(`2026-10-${day}/every`, "Strong winds veering over Verrin sound", ["weather"], ["sollen"], { kind }),
      );
      expect(storiesIn(...evenings)).toEqual({});
    },
  );

  test("words that several others of these weeks have tell of nothing", () => {
    const others = ["a", "b", "c"].map((slug, n) =>
      segment(`2026-10-0${n + 1}/${slug}`, "former charity treasurer", [slug]),
    );
    expect(storiesIn(COURT, BAIL)).toEqual(JOINED);
    expect(storiesIn(...others, COURT, BAIL)).toEqual({});
  });

  test("a story's own words do not wear out, however long it goes on", () => {
    const evenings = Array.from({ length: 12 }, (_, n) => ({
      ...BAIL,
      episode: `2026-10-${String(n + 7).padStart(2, "0")}`,
    }));
    expect(storiesIn(COURT, ...evenings)["2026-10-05-treasurer"]).toHaveLength(13);
  });

  test("a name joins whatever it stands at, and those that are found to belong to them", () => {
    const named = { ...COURT, story: "the-fund" };
    const other = segment("2026-12-01/other", "Nothing alike", [], [], { story: "the-fund", kind: "weather" });
    expect(storiesIn(named, BAIL, other)).toEqual({
      "the-fund": ["2026-10-05/treasurer", "2026-10-07/bail", "2026-12-01/other"],
    });
  });
});

const EVENINGS = ["2026-10-05", "2026-10-06", "2026-10-07", "2026-10-09", "2026-10-30", "2026-11-02"];
const drawn = fc
  .record({
    kind: fc.constantFrom("package" as const, "interview" as const, "weather" as const),
    topics: fc.subarray(["courts", "harbour"]),
    names: fc.subarray(["sollen", "hallan", "ilse"]),
    words: fc.subarray(["treasur", "charity", "dredg", "lantern", "former"]),
    story: fc.oneof({ weight: 8, arbitrary: fc.constant(null) }, fc.constantFrom("none", "the-fund")),
  })
  .chain((own) => fc.constant(own));
const archive = fc
  .array(fc.array(drawn, { maxLength: 4 }), { minLength: EVENINGS.length, maxLength: EVENINGS.length })
  .map((evenings) =>
    evenings.map((own, n) =>
      own.map((one, at): StorySegment => ({ ...one, episode: EVENINGS[n] ?? "", slug: `s${at}` })),
    ),
  );

test("the order in which segments are given does not matter", () => {
  fc.assert(
    fc.property(archive, fc.func(fc.integer()), (evenings, by) => {
      const all = evenings.flat();
      const shuffled = all.toSorted((a, b) => by(a.episode + a.slug) - by(b.episode + b.slug));
      expect(joinStories(shuffled, [])).toEqual(joinStories(all, []));
    }),
  );
});

test("a later evening takes no segment out of a story, and changes no story's address", () => {
  fc.assert(
    fc.property(archive, fc.integer({ min: 1, max: EVENINGS.length - 1 }), (evenings, until) => {
      const before = joinStories(evenings.slice(0, until).flat(), []).stories;
      const after = joinStories(evenings.flat(), []).stories;
      for (const [story, ids] of Object.entries(before)) expect(after[story]).toEqual(expect.arrayContaining([...ids]));
    }),
  );
});

test("joined in two parts, they are the stories of the whole", () => {
  fc.assert(
    fc.property(archive, fc.integer({ min: 1, max: EVENINGS.length - 1 }), (evenings, at) => {
      const whole = joinStories(evenings.flat(), []);
      const first = joinStories(evenings.slice(0, at).flat(), []);
      const second = joinStories(evenings.slice(at).flat(), first.recent);
      const together = new Map<string, Set<string>>();
      for (const part of [first.stories, second.stories])
        for (const [story, ids] of Object.entries(part))
          together.set(story, new Set([...(together.get(story) ?? []), ...ids]));
      const sets = Object.entries(whole.stories).map(([story, ids]) => [story, new Set(ids)] as const);
      expect(together).toEqual(new Map(sets));
    }),
  );
});
