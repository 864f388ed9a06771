import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  chapterAfter,
  chapterAt,
  parseChapters,
  placeText,
  startBefore,
  stopFrom,
} from "../../src/browser/chapters.ts";
import { choicesIn, placesIn, withPlace } from "../../src/browser/kept.ts";
import { commandOf } from "../../src/browser/keys.ts";
import type { Chapter } from "../../src/pages/types.ts";

const chapter = (title: string, from: number, to: number, held: Chapter["held"] = null): Chapter => ({
  title,
  from,
  to,
  href: `#${title.toLowerCase()}`,
  held,
});
const CHAPTERS = [
  chapter("Headlines", 0, 30),
  chapter("Ferries", 30, 90),
  chapter("Agency", 90, 120, "withheld"),
  chapter("Gone", 120, 150, "withdrawn"),
  chapter("Sport", 750, 800),
];

describe("the running order in the deck", () => {
  test.each([
    ["at its in point", 30, "0:30, Ferries"],
    ["to the last of it", 89.9, "1:29, Ferries"],
    ["what is withheld says so", 100, "1:40, Agency, withheld"],
    ["what is withdrawn too", 121, "2:01, Gone, withdrawn"],
    ["where no segment is", 300, "5:00"],
    ["late", 760, "12:40, Sport"],
  ])("a moment in words: %s", (_why, seconds, words) => {
    expect(placeText(CHAPTERS, seconds)).toBe(words);
  });
  test.each([
    ["the next", 3, "Ferries"],
    ["at an in point: the one after", 30, "Sport"],
    ["what is held is passed over", 95, "Sport"],
    ["after the last", 760, undefined],
  ])("next: %s", (_why, seconds, title) => {
    expect(chapterAfter(CHAPTERS, seconds)?.title).toBe(title);
  });
  test.each([
    ["into a segment: its beginning", 40, 30],
    ["soon after its beginning: the one before", 31, 0],
    ["what is held is passed over", 751, 30],
    ["at the beginning", 0, 0],
  ])("previous: %s", (_why, seconds, to) => {
    expect(startBefore(CHAPTERS, seconds)).toBe(to);
  });
  test.each([
    ["none", undefined, 0],
    ["not JSON", "[{", 0],
    ["no list", "{}", 0],
    ["no chapters", '[null, 7, {"title":"x","from":1,"to":2,"href":"#x","held":"because"}]', 0],
    ["chapters, in any order", JSON.stringify([...CHAPTERS].reverse()), CHAPTERS.length],
  ])("the page's list: %s", (_why, text, count) => {
    const read = parseChapters(text);
    expect(read).toHaveLength(count);
    if (count > 0) expect(read).toEqual(CHAPTERS);
  });

  const orders = fc
    .array(fc.tuple(fc.integer({ min: 1, max: 900 }), fc.constantFrom(null, null, "withheld", "withdrawn")), {
      minLength: 1,
      maxLength: 20,
    })
    .map((lengths) => {
      let end = 0;
      return lengths.map(([long, held], n) => {
        end += long;
        return chapter(`S${n}`, end - long, end, held);
      });
    });
  test("going on ends at the last, going back at the first, and neither stands on what is held", () => {
    fc.assert(
      fc.property(orders, fc.nat(20_000), (order, start) => {
        let at = start;
        for (let steps = 0; chapterAfter(order, at) !== undefined; steps++) {
          const next = chapterAfter(order, at);
          expect(next?.held).toBeNull();
          expect(next?.from).toBeGreaterThan(at);
          expect(steps).toBeLessThan(order.length);
          at = next?.from ?? 0;
        }
        while (at > 0) {
          const back = startBefore(order, at);
          expect(back).toBeLessThan(at);
          expect(back === 0 || chapterAt(order, back)?.held === null).toBe(true);
          at = back;
        }
      }),
    );
  });
});

describe("where a page stops by itself", () => {
  const own = { from: 100, to: 200 };
  test.each([
    ["from its beginning", 100, [], 200],
    ["from a little before, as browsers round", 99.99, [], 200],
    ["from within", 150, [], 200],
    ["from before it: it is on its way elsewhere", 50, [], null],
    ["from its end, once it has stopped there", 200, [], null],
    ["where something withheld follows: before that", 150, [{ from: 200, to: 220 }], 199.9],
    ["what is withheld elsewhere changes nothing", 150, [{ from: 300, to: 320 }], 200],
  ])("%s", (_why, seconds, skips, stop) => {
    expect(stopFrom(seconds, own, 400, skips)).toBe(stop);
  });
  test("the last segment ends with the recording", () => {
    expect(stopFrom(150, own, 200.05, [])).toBeNull();
  });
});

describe("keys", () => {
  const NONE = {
    ctrlKey: false,
    altKey: false,
    metaKey: false,
    shiftKey: false,
    repeat: false,
    isComposing: false,
  };
  const press = (key: string, more: Partial<typeof NONE> = {}) => commandOf({ key, ...NONE, ...more });
  test.each([
    ["a letter", press("k"), "play"],
    ["with capitals locked", press("K"), "play"],
    ["the list, which needs Shift", press("?", { shiftKey: true }), "help"],
    ["held down, ten seconds more", press("l", { repeat: true }), "on"],
    ["held down, no second turn", press("k", { repeat: true }), null],
    ["no letter of ours", press("x"), null],
    ["while a character is composed", press("k", { isComposing: true }), null],
    ["the space bar scrolls", press(" "), null],
    ["arrows scroll", press("ArrowRight"), null],
    ["a name that every object has", press("constructor"), null],
  ])("%s", (_why, command, wanted) => {
    expect(command).toBe(wanted);
  });
  test("with a modifier no key is ours", () => {
    const held = fc.constantFrom("ctrlKey", "altKey", "metaKey" as const);
    fc.assert(
      fc.property(fc.constantFrom(..."kjlpnscmf?"), held, (key, modifier) => {
        expect(press(key, { [modifier]: true })).toBeNull();
        expect(press(key === "?" ? "k" : key, { shiftKey: true })).toBeNull();
      }),
    );
  });
});

describe("what is kept on the device", () => {
  test.each([
    ["nothing", null],
    ["not JSON", "[["],
    ["no list", '{"a":1}'],
    ["no places", '[null, 7, ["a"], [1, 2], ["a", "b"], ["a", -1]]'],
  ])("no place is read from %s", (_why, text) => {
    expect(placesIn(text)).toEqual([]);
  });
  test("a place takes the place of an earlier one, and goes at the edges of the recording", () => {
    const one = withPlace([], "a", 60.7, 400);
    expect(one).toEqual([["a", 60]]);
    const two = withPlace(one, "b", 80, 400);
    expect(withPlace(two, "a", 90, 400)).toEqual([
      ["b", 80],
      ["a", 90],
    ]);
    expect(withPlace(two, "a", 5, 400)).toEqual([["b", 80]]);
    expect(withPlace(two, "a", 395, 400)).toEqual([["b", 80]]);
  });
  test("what is kept is read back, and never grows beyond fifty episodes", () => {
    const stops = fc.array(fc.tuple(fc.string(), fc.double({ min: 0, max: 4000, noNaN: true })), { maxLength: 200 });
    fc.assert(
      fc.property(stops, (all) => {
        const places = all.reduce((kept: ReturnType<typeof placesIn>, [id, at]) => withPlace(kept, id, at, 4000), []);
        expect(places.length).toBeLessThanOrEqual(50);
        expect(placesIn(JSON.stringify(places))).toEqual(places);
      }),
    );
  });
  test.each([
    ["nothing", null, {}],
    ["not JSON", "{", {}],
    ["a list", "[1]", {}],
    ["what is none", '{"rate":"fast","volume":null,"muted":1,"captions":"no"}', {}],
    ["some", '{"rate":1.5,"captions":false}', { rate: 1.5, captions: false }],
    ["too much", '{"rate":99,"volume":7}', { rate: 3, volume: 1 }],
  ])("choices from %s", (_why, text, chosen) => {
    const usual = { rate: 1, volume: 1, muted: false, captions: true, keys: true };
    expect(choicesIn(text)).toEqual({ ...usual, ...chosen });
  });
});
