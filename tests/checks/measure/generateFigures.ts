import { ToWords } from "to-words";
import { checkEpisode } from "../../../src/checks/index.ts";
import type { Episode } from "../../../src/model/episode.ts";
import { type Random, randomFrom } from "../../support/random.ts";
import { around, episodeOf, programmeOf, subjectFrom, type Turn } from "./archive.ts";
import { GROUP_RULES } from "./broadcasts.ts";
import type { Speech } from "./speeches.ts";
import { STORIES, type Story } from "./stories.ts";
import { emptyTally, type Tally, tallyUp } from "./tally.ts";

const toWords = new ToWords({ localeCode: "en-GB" });
/** A number as an editor writes it, or as a recogniser hears it. */
const written = (value: number, random: Random): string =>
  random.chance(0.5) ? value.toLocaleString("en-GB") : toWords.convert(value).toLowerCase();

/** A figure that was changed by mistake: another digit, two that changed places, one more or less, ten times. */
function changed(value: number, random: Random): number {
  const digits = String(value);
  const ways = [
    value + random.whole(1, 3),
    Math.max(2, value - random.whole(1, 3)),
    Math.round(value * (1 + random.next())),
  ];
  if (digits.length >= 2)
    ways.push(
      Number([...digits].toReversed().join("")),
      Number(digits.replace(/\d/, (d) => String((Number(d) % 9) + 1))),
    );
  const other = random.pick(ways.filter((way) => way !== value && way > 1));
  return other ?? value + 1;
}

const NUMBER =
  /(?<![\d,.$-])(\d{1,3}(?:,\d{3})+|\d{2,3})(?![\d,.]*\d)(?= (?!percent|years? ago|years? old|of )[a-z]{3,})/;

/** A speech's own sentence with a figure, cut to what stands around it and thinned, as an introduction tells it. */
function introOf(sentence: string, random: Random, makeWrong: boolean): { intro: string; figure: string } | null {
  const found = NUMBER.exec(sentence);
  if (found === null) return null;
  const value = Number((found[1] ?? "").replaceAll(",", ""));
  const figure = makeWrong ? changed(value, random) : value;
  const before = sentence.slice(0, found.index).trim().split(" ").slice(-7);
  const after = sentence
    .slice(found.index + (found[1]?.length ?? 0))
    .trim()
    .split(" ")
    .slice(0, 8);
  const thin = (words: string[], kept: number) => words.filter((_, n) => n < kept || random.chance(0.8));
  const intro = [...thin(before, 0), figure.toLocaleString("en-GB"), ...thin(after, 2)]
    .join(" ")
    .replace(/[,.;:]$/, "");
  return { intro: `Tonight ${intro}.`, figure: figure.toLocaleString("en-GB") };
}

const place = ({ at }: { readonly at: Episode["at"] }) => at;

/** Introductions to speeches, every second with a figure changed: `count-differs`. */
export async function measureIntroductions(speeches: readonly Speech[], seed: number): Promise<Tally> {
  const random = randomFrom(seed);
  const tally = emptyTally();
  const own = { ...(await around(programmeOf([]))), placeOf: place };
  for (const speech of speeches) {
    for (let from = 0; from + 30 <= Math.min(speech.sentences.length, 120); from += 30) {
      const report = speech.sentences.slice(from, from + 30);
      const makeWrong = random.chance(0.5);
      const intros = report.map((sentence) => introOf(sentence, random, makeWrong)).filter((intro) => intro !== null);
      const [first] = intros;
      if (first === undefined) continue;
      const turns: Turn[] = [
        { voice: "A Presenter", segment: "headlines", text: first.intro },
        ...report.map((text) => ({ voice: "A Speaker", segment: "a", text })),
      ];
      const findings = checkEpisode(subjectFrom(episodeOf(turns), own)).filter(({ rule }) =>
        GROUP_RULES.figures.has(rule),
      );
      const planted = makeWrong
        ? [
            {
              name: first.intro,
              rules: ["count-differs", "superlative-changes"],
              isAt: ({ says }: { says: string }) => says.includes(first.figure),
            },
          ]
        : [];
      tallyUp(tally, planted, findings);
    }
  }
  return tally;
}

/** Short reports with figures that agree, or one of which was changed: by rule. */
export async function measureStories(
  seed: number,
  times: number,
  stories: readonly Story[] = STORIES,
): Promise<ReadonlyMap<string, Tally>> {
  const tallies = new Map<string, Tally>();
  for (const { rule, makeWrong, lines, findings } of await toldOf(seed, times, stories)) {
    const tally = tallies.get(rule) ?? emptyTally();
    tallies.set(rule, tally);
    tallyUp(tally, makeWrong ? [{ name: lines.join(" / "), rules: [rule], isAt: () => true }] : [], findings);
  }
  return tallies;
}

/**
 * Which rules told of the reports of each rule: how many reports, by `rule` for those with a wrong figure and `rule,
 * right` for the others, then by the rule that told, or `nothing`.
 */
export async function confusionOf(
  seed: number,
  times: number,
  stories: readonly Story[],
): Promise<ReadonlyMap<string, ReadonlyMap<string, number>>> {
  const table = new Map<string, Map<string, number>>();
  for (const { rule, makeWrong, findings } of await toldOf(seed, times, stories)) {
    const kind = makeWrong ? rule : `${rule}, right`;
    const row = table.get(kind) ?? new Map<string, number>();
    table.set(kind, row);
    const told = new Set(findings.map((finding) => finding.rule));
    for (const name of told.size === 0 ? ["nothing"] : told) row.set(name, (row.get(name) ?? 0) + 1);
  }
  return table;
}

/** Every story so many times, the first of two with a wrong figure, and what the rules of figures say of it. */
async function toldOf(seed: number, times: number, stories: readonly Story[]) {
  const random = randomFrom(seed);
  const own = { ...(await around(programmeOf([]))), placeOf: place };
  return Array.from({ length: times }, (_, n) => n % 2 === 0).flatMap((makeWrong) =>
    stories.map(({ rule, tell }) => {
      const lines = tell({
        random,
        makeWrong,
        say: (value) => written(value, random),
        change: (value) => changed(value, random),
      });
      const turns = lines.map(
        (text, at): Turn => ({
          voice: at === 0 ? "A Presenter" : "A Reporter",
          segment: at === 0 ? "headlines" : "a",
          text,
        }),
      );
      const findings = checkEpisode(subjectFrom(episodeOf(turns), own)).filter(({ rule: name }) =>
        GROUP_RULES.figures.has(name),
      );
      return { rule, makeWrong, lines, findings };
    }),
  );
}
