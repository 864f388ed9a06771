import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { checkEpisode } from "../../src/checks/index.ts";
import { around, programmeOf, registerFrom, subjectFrom } from "../checks/measure/archive.ts";
import { measureBroadcasts } from "../checks/measure/broadcasts.ts";
import { measureClean } from "../checks/measure/clean.ts";
import { measureFaults } from "../checks/measure/generateFaults.ts";
import { confusionOf, measureIntroductions, measureStories } from "../checks/measure/generateFigures.ts";
import { measureNames } from "../checks/measure/generateNames.ts";
import { type Mentions, measureMentions } from "../checks/measure/mentions.ts";
import { speechesSince } from "../checks/measure/speeches.ts";
import { SUMS } from "../checks/measure/sums.ts";
import { precisionOf, recallOf, type Tally } from "../checks/measure/tally.ts";
import { readArchive } from "../support/readArchive.ts";

/** Any number: the same faults every time. */
const SEED = 7;
/** Speeches that faults are put into, and those that are read clean. */
const SINCE = 1960;
const SOME = 30;

const share = (value: number): string => value.toFixed(3);
const row = (what: string, tally: Tally): void => {
  const { found, planted, right, told } = tally;
  const cells = [
    `recall ${share(recallOf(tally))}  (${found}/${planted})`.padEnd(28),
    `precision ${share(precisionOf(tally))}  (${right}/${told})`,
  ];
  console.log(`  ${what.padEnd(24)} ${cells.join(" ")}`);
  for (const missed of tally.missed.slice(0, 3)) console.log(`      missed: ${missed.slice(0, 110)}`);
  for (const wrong of tally.wrong.slice(0, 3)) console.log(`      wrong:  ${wrong.slice(0, 110)}`);
};

/**
 * Prints recall and precision of the editorial checks, by rule: on the broadcasts of a folder, where one is given, and on
 * faults put into public speeches; then how many findings those speeches give as they are.
 * @param folder of broadcasts: names.csv, and for each a folder with truth.json, raw-noisy.vtt, faults.json and on-air-faults.json.
 */
export async function benchChecks(folder?: string): Promise<void> {
  if (folder !== undefined) {
    console.log(`noisy transcripts in ${folder}, and what was said wrong on air`);
    for (const [group, tally] of Object.entries(await measureBroadcasts(resolve(folder)))) row(group, tally);
    for (const transcript of ["raw.vtt", "raw-noisy.vtt"]) {
      console.log(`registered names in ${transcript}, of all that were said`);
      for (const [sort, own] of await measureMentions(resolve(folder), transcript))
        console.log(`  ${mentionsText(sort, own)}`);
    }
  }
  const speeches = speechesSince(SINCE);
  const some = speeches.slice(0, SOME);
  console.log(`faults put into ${some.length} speeches (seed ${SEED})`);
  for (const [rule, tally] of await measureFaults(some, SEED)) row(rule, tally);
  row("name-near-miss", await measureNames(some, SEED));
  console.log(`introductions to parts of ${speeches.length} speeches, every second with a figure changed`);
  row("count-differs", await measureIntroductions(speeches, SEED));
  console.log("short reports, every second with a figure changed");
  for (const [rule, tally] of await measureStories(SEED, 40)) row(rule, tally);
  console.log(
    "reports whose figures can be worked out, every second with one changed; then which rules told of each kind",
  );
  for (const [rule, tally] of await measureStories(SEED, 60, SUMS)) row(rule, tally);
  for (const [kind, told] of await confusionOf(SEED, 60, SUMS))
    console.log(`  ${kind.padEnd(24)} ${[...told].map(([rule, times]) => `${rule} ${times}`).join(", ")}`);
  await benchClean(folder, speeches);
  await benchSpeed();
}

function mentionsText(sort: string, own: Mentions): string {
  const { said, heard, told, mended, mendedWrongly, saidWrong, asked, changed } = own;
  const air =
    saidWrong === 0 ? "" : `; first names said wrong on air: ${asked} of ${saidWrong} asked about, ${changed} changed`;
  return (
    `${sort}: ${said} mentions, ${heard} heard right; ${told} of ${said - heard} misheard ones told; ` +
    `${mended} mended by --fix names, ${mendedWrongly} wrongly${air}`
  );
}

async function benchClean(folder: string | undefined, speeches: ReturnType<typeof speechesSince>): Promise<void> {
  const register = folder === undefined ? [] : registerFrom(readFileSync(resolve(folder, "names.csv"), "utf8"));
  const { halfHours, byRule } = await measureClean(speeches, register);
  const all = [...byRule.values()].reduce((sum, found) => sum + found.length, 0);
  console.log(
    `${speeches.length} clean speeches, ${halfHours.toFixed(0)} half-hours: ${(all / halfHours).toFixed(2)} findings a half-hour`,
  );
  for (const [rule, found] of byRule)
    console.log(`  ${rule.padEnd(24)} ${(found.length / halfHours).toFixed(2)}  (${found.length})`);
}

async function benchSpeed(): Promise<void> {
  const started = performance.now();
  const { archive } = readArchive("content");
  if (archive === null) return;
  const own = { ...(await around(programmeOf([]), "content")), programme: archive.programme };
  const findings = archive.episodes.flatMap((episode) => checkEpisode(subjectFrom(episode, own)));
  const ms = performance.now() - started;
  console.log(
    `the demo read and checked: ${ms.toFixed(0)} ms, ${archive.episodes.length} episodes, ${findings.length} findings`,
  );
}
