import { z } from "zod";
import type { WatchList } from "../model/programme.ts";
import { bad, field, type Judge, judgeClock, judgeDay, judgeLine } from "./fields.ts";

const RULE = /^[a-z0-9]+(-[a-z0-9]+)*$/;
const words = (description: string, ...examples: string[]) =>
  z.array(field(judgeLine, { type: "string", minLength: 1, description, examples })).meta({ description });

/** The key `addresses` of programme.md. */
export const AddressesShape = words(
  "Web addresses that the programme gives on air, as people type them.",
  "tide.example.org/pay",
);

const LEVELS = ["off", "warns", "blocks"] as const;
type Levels = Readonly<Record<string, (typeof LEVELS)[number]>>;

/** Names of checks with a level each. Which names there are is for the checks to tell. */
const judgeLevels: Judge<Levels> = (written) => {
  const mend = "Write names of checks with off, warns or blocks: { count-differs: off }.";
  if (typeof written !== "object" || written === null || Array.isArray(written)) {
    return bad("map-wanted", "is not a set of keys with values", mend);
  }
  const judged = Object.entries(written).map(
    ([name, level]) => [name, LEVELS.find((known) => known === level)] as const,
  );
  const levels = judged.flatMap(([name, level]) => (level === undefined ? [] : [[name, level] as const]));
  const wrong = judged.find(([, level]) => level === undefined);
  return wrong === undefined
    ? { ok: true, value: Object.fromEntries(levels) }
    : bad("value-unknown", `has no level off, warns or blocks for ${wrong[0]}`, mend);
};

/** The key `checks` of programme.md: editorial checks that have another level here. */
export const ChecksShape = field(judgeLevels, {
  type: "object",
  additionalProperties: { type: "string", enum: LEVELS },
  description: "Editorial checks with another level here, by name: `afterair check --explain` lists them.",
  examples: ["{ count-differs: off }"],
});

const listChange = (what: string) =>
  z
    .strictObject({
      add: words("What the list has here besides; `*` ends a word with anything.", "tribunal").optional(),
      drop: words("What it does not have here.", "jury").optional(),
    })
    .meta({ description: `Changes to the words that ${what}.` })
    .optional();

/** The key `watch` of programme.md: changes to the lists of words that the checks look for. */
export const WatchShape = z
  .strictObject({
    stock: listChange("recognisers put into silence"),
    court: listChange("speak of a court case"),
    "self-harm": listChange("speak of self-harm"),
    minors: listChange("speak of people under 18"),
    graphic: listChange("speak of graphic matter"),
    allegation: listChange("may be an allegation"),
  } satisfies Record<WatchList, unknown>)
  .meta({ description: "Changes to the lists of words that the checks look for." });

/** The key `accepted` of episode.md: findings that were looked at and let stand. */
export const AcceptedShape = z
  .array(
    z.strictObject({
      rule: field(judgeLine, {
        type: "string",
        pattern: RULE.source,
        description: "The rule.",
        examples: ["count-differs"],
      }),
      at: field(judgeClock, {
        type: "string",
        description: "The moment, as the report shows it; left out: any.",
        examples: ["3:41"],
      }).optional(),
      words: field(judgeLine, {
        type: "string",
        description: "The words it is about; left out: any.",
        examples: ["eleven sailings"],
      }).optional(),
      dated: field(judgeDay, {
        type: "string",
        format: "date",
        description: "When it was accepted.",
        examples: ["2026-10-06"],
      }),
      why: field(judgeLine, { type: "string", description: "The reason.", examples: ["Both figures are right."] }),
      by: field(judgeLine, { type: "string", description: "Who answers for it.", examples: ["Standards editor"] }),
    }),
  )
  .meta({ description: "Findings of the checks that were looked at and let stand." });
