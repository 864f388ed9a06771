import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { serve } from "../../src/desk/serve.ts";
import { segmentPath } from "../../src/model/address.ts";
import { listEpisodes } from "../../src/read/folder.ts";
import { RUN, runsIn, wordsIn } from "../../src/scan/words.ts";
import { parseVtt } from "../../src/webvtt/index.ts";
import { BROWSER, launch } from "../browser/chromium.ts";
import { NothingMeasured } from "../support/broadcasts.ts";
import { build, newFolder, removeFolder } from "../support/site.ts";
import { generateArchive, LAST, segmentAt } from "./generate.ts";
import { foundFor } from "./search.ts";

const SIZES = [100, 1000];
/** Questions of each kind. */
const ASKED = 200;

interface Spoken {
  readonly address: string;
  /** The words of each caption: who asks for words in a row has heard them in one breath. */
  readonly lines: readonly (readonly string[])[];
  /** Three in a row, as they are written, with figures, hyphens and signs. */
  readonly phrases: readonly string[];
}

interface Question {
  readonly asked: string;
  readonly answer: string;
}

/**
 * Looks in generated archives, whose words are those of the data set's addresses, for what is known to be there: three
 * words in a row, in quotation marks, and two words, that one segment alone has. Where it comes, closest first, in a browser.
 */
export async function benchKnownItems(sizes: readonly number[] = SIZES): Promise<void> {
  if (BROWSER === null) throw new NothingMeasured("No browser was found, and the search is measured in one.");
  console.log("| episodes | looked for | asked | first | among five |\n|---|---|---|---|---|");
  for (const size of sizes) {
    const folder = await newFolder();
    const [content, site] = [join(folder, "content"), join(folder, "site")];
    await generateArchive(content, size);
    const spoken = await segmentsOf(content);
    await build(content, site, LAST);
    const [serving, browser] = await Promise.all([serve({ folder: site, base: "/", port: 0 }), launch()]);
    try {
      const page = await browser.newPage();
      for (const [kind, questions] of [
        ["a rare phrase", phrasesIn(spoken)],
        ["two words", pairsIn(spoken)],
      ] as const) {
        let [first, amongFive] = [0, 0];
        for (const { asked, answer } of questions) {
          const found = await foundFor(page, serving.url, asked);
          if (found[0] === answer) first++;
          if (found.slice(0, 5).includes(answer)) amongFive++;
        }
        console.log(`| ${size} | ${kind} | ${questions.length} | ${first} | ${amongFive} |`);
      }
    } finally {
      await browser.close();
      await serving.close();
      await removeFolder(folder);
    }
  }
}

/** The words of every segment. */
async function segmentsOf(content: string): Promise<readonly Spoken[]> {
  const spoken = new Map<string, { readonly lines: (readonly string[])[]; readonly phrases: string[] }>();
  for (const { id } of listEpisodes(content).episodes) {
    const text = await readFile(join(content, "episodes", id.slice(0, 4), id, "transcript.vtt"), "utf8");
    for (const { startTime, text: said } of parseVtt(text).cues) {
      const address = `/${segmentPath(id, segmentAt(startTime * 1000))}`;
      const own = spoken.get(address) ?? { lines: [], phrases: [] };
      spoken.set(address, own);
      const text = said.replace(/<[^>]*>/g, " ");
      own.lines.push(wordsIn(text));
      own.phrases.push(...runsIn(text.replaceAll('"', " ").trim().split(/\s+/)));
    }
  }
  return [...spoken].map(([address, own]) => ({ address, ...own }));
}

/** So many candidates, spread over all segments; the same each time. */
const candidates = <T>(spoken: readonly Spoken[], pick: (own: Spoken, n: number) => T): readonly T[] =>
  Array.from({ length: ASKED * 20 }, (_, n) => spoken[(n * 7919) % spoken.length]).flatMap((own, n) =>
    own === undefined ? [] : [pick(own, n)],
  );

function phrasesIn(spoken: readonly Spoken[]): readonly Question[] {
  const asked = candidates(spoken, ({ address, phrases }, n) => ({
    asked: phrases[(n * 104_729) % phrases.length] ?? "",
    answer: address,
  })).filter((own) => wordsIn(own.asked).length >= RUN);
  const plain = (phrase: string) => wordsIn(phrase).join(" ");
  const holders = new Map(asked.map((own) => [plain(own.asked), new Set<string>()]));
  for (const { address, phrases } of spoken) for (const run of phrases) holders.get(plain(run))?.add(address);
  return asked
    .filter((own) => holders.get(plain(own.asked))?.size === 1)
    .slice(0, ASKED)
    .map((own) => ({ ...own, asked: `"${own.asked}"` }));
}

function pairsIn(spoken: readonly Spoken[]): readonly Question[] {
  const pairs = candidates(spoken, ({ address, lines }, n) => {
    const long = [...new Set(lines.flat())].filter((word) => word.length > 3);
    const [a = "", b = ""] = [long[(n * 104_729) % long.length], long[(n * 15_485_863) % long.length]];
    return { a, b, answer: address };
  }).filter(({ a, b }) => a !== b);
  const holders = new Map(pairs.flatMap(({ a, b }) => [a, b]).map((word) => [word, new Set<string>()]));
  for (const { address, lines } of spoken) for (const word of lines.flat()) holders.get(word)?.add(address);
  const isAlone = (a: string, b: string) =>
    [...(holders.get(a) ?? [])].filter((at) => holders.get(b)?.has(at)).length === 1;
  return pairs
    .filter(({ a, b }) => isAlone(a, b))
    .slice(0, ASKED)
    .map(({ a, b, answer }) => ({ asked: `${a} ${b}`, answer }));
}
