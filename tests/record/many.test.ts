import fc from "fast-check";
import { DateTime } from "luxon";
import { describe, expect, test } from "vitest";
import { type Entry, timesOf } from "../../src/record/entry.ts";
import { instant } from "../../src/record/order.ts";
import { withWholePassages } from "../../src/record/stretch.ts";
import { noted } from "./broadcast.ts";
import { lay } from "./laid.ts";

/** The short ways that thousands of entries and corrections go come to what the long ones come to. */
describe("short ways", () => {
  test.each([
    "2026-10-05T18:30:00.000+01:00",
    "2026-10-05T18:30:00Z",
    "2026-02-28T23:59:59.999Z",
    "2026-02-29T10:00:00Z",
    "2026-02-30T10:00:00Z",
    "2026-13-01T10:00:00Z",
    "2026-10-05T24:00:00Z",
    "2026-10-05T18:30:60Z",
    "2026-10-05T18:30:00",
    "2026-10-05",
    "2026-10-05T18:30:00+14:00",
    "2026-10-05T18:30:00-00:00",
    "yesterday",
    "",
  ])("the moment %j is the date library's", (iso) => {
    expect(instant(iso)).toBe(DateTime.fromISO(iso, { zone: "utc" }).toMillis());
  });

  test("any moment is the date library's", () => {
    const moment = fc.date({ min: new Date("1900-01-01"), max: new Date("2100-01-01"), noInvalidDate: true });
    const offset = fc.constantFrom("Z", "+01:00", "-05:30", "+13:45", "");
    fc.assert(
      fc.property(moment, offset, (at, zone) => {
        const iso = at.toISOString().replace("Z", zone);
        expect(instant(iso)).toBe(DateTime.fromISO(iso, { zone: "utc" }).toMillis());
      }),
    );
  });

  test("an entry counts from the last later entry that says so", () => {
    const entry = fc.record({ seq: fc.integer({ min: 1, max: 9 }), ahead: fc.option(fc.integer({ min: 1, max: 9 })) });
    fc.assert(
      fc.property(fc.array(entry, { maxLength: 12 }), (all) => {
        const entries = all.map(({ seq, ahead }, n) => ({
          seq,
          time: `time ${n}`,
          ...(ahead === null ? {} : { ahead }),
        }));
        const tried = entries.map(({ seq, time }, n) => {
          const later = entries.slice(n + 1).findLast((own) => own.ahead !== undefined && own.ahead <= seq);
          return later?.time ?? time;
        });
        expect(timesOf(entries as unknown as readonly Entry[])).toEqual(tried);
      }),
      { numRuns: 1000 },
    );
  });

  test("cues go with all that share a passage with them, by however many steps", () => {
    const place = fc.nat(12);
    fc.assert(
      fc.property(fc.array(place), fc.array(fc.array(place, { minLength: 1, maxLength: 3 })), (places, passages) => {
        const tried = new Set(places);
        for (const _ of passages)
          for (const own of passages) if (own.some((one) => tried.has(one))) for (const one of own) tried.add(one);
        expect([...withWholePassages(new Set(places), passages)].sort()).toEqual([...tried].sort());
      }),
    );
  });
});

test("of many corrections whose words are not there, the first are told the nearest words", () => {
  const missing = Array.from({ length: 25 }, (_, n) =>
    noted("on-air", { id: `2026-10-06-${n + 1}`, said: "Osric Tarick" }),
  );
  const { findings } = lay(...missing);
  expect(findings.map(({ rule }) => rule)).toEqual(missing.map(() => "correction-words-not-found"));
  expect(findings.filter(({ mend }) => mend.includes("Osric Tarrick"))).toHaveLength(20);
  expect(findings.at(-1)?.mend).toContain("Copy the words from the page.");
});
