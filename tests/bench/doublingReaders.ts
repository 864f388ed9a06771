import { markdownWords, renderMarkdown } from "../../src/derive/markdown.ts";
import { splitFront } from "../../src/read/frontMatter.ts";
import { parseEdited } from "../../src/read/incoming/edited.ts";
import { parseRunningOrder } from "../../src/read/incoming/runningOrder.ts";
import { parseRawTranscript } from "../../src/read/incoming/transcript.ts";
import type { Source } from "../../src/read/source.ts";
import { parseTranscript } from "../../src/read/transcript.ts";
import type { Grown } from "./doubling.ts";
import { inventedWord, times } from "./doublingWords.ts";

const source = (file: string, text: string): Source => ({ file, bytes: Buffer.from(text) });
const seconds = (n: number): string =>
  `${String(Math.floor(n / 3600)).padStart(2, "0")}:${String(Math.floor(n / 60) % 60).padStart(2, "0")}:${String(n % 60).padStart(2, "0")}`;
const SLOT = { frameRate: 25, slotAt: "18:30" } as const;

/** Every reader, with each kind of thing that it reads growing. */
export async function grownReaders(): Promise<readonly Grown[]> {
  const grown = (name: string, read: (own: Source) => unknown, textOf: (size: number) => string): Grown => ({
    name: `readers, ${name}`,
    from: 1000,
    most: 256_000,
    make: (size) => {
      const own = source("given", textOf(size));
      return { read: () => read(own) };
    },
  });
  const raw = (name: string, textOf: (size: number) => string) =>
    grown(`raw transcript, ${name}`, parseRawTranscript, textOf);
  const captions = (name: string, textOf: (size: number) => string) =>
    grown(`captions, ${name}`, parseTranscript, textOf);
  const notes = (name: string, textOf: (size: number) => string): Grown => ({
    name: `notes, ${name}`,
    from: 1000,
    most: 256_000,
    make: (size) => {
      const text = textOf(size);
      return { rendered: () => renderMarkdown(text, "/"), words: () => markdownWords(text) };
    },
  });
  const spoken = (n: number): string => `There are ${inventedWord(n)} sailings a week.`;
  const vtt = (size: number, cue: (n: number) => string): string =>
    `WEBVTT\n\n${times(size, (n) => `${seconds(n * 2)}.000 --> ${seconds(n * 2 + 2)}.000\n${cue(n)}\n`).join("\n")}`;
  const oneCue = (words: string): string => `WEBVTT\n\n00:00.000 --> 00:10.000\n${words}\n`;
  const srt = (size: number, timings: (n: number) => string): string =>
    times(size, (n) => `${n + 1}\n${timings(n)}\n${spoken(n)}\n`).join("\n");
  const list = (size: number, entry: (n: number) => object): string => JSON.stringify(times(size, entry));
  return [
    raw("SubRip", (size) => srt(size, (n) => `${seconds(n * 2)},000 --> ${seconds(n * 2 + 2)},000`)),
    raw("SubRip without times that can be read", (size) => srt(size, () => "0,1 --> 0 no")),
    raw("SubRip whose times stand still", (size) => srt(size, () => "00:00:01,000 --> 00:00:01,001")),
    raw("SubRip whose times run back", (size) =>
      srt(size, (n) => `${seconds((size - n) * 2)},000 --> ${seconds((size - n) * 2 + 1)},000`),
    ),
    raw("timings alone", (size) => times(size, () => "00:00:01,000 --> 00:00:02,000").join("\n")),
    raw("tags that do not close", (size) => `1\n00:00:01,000 --> 00:00:02,000\n${"<font ".repeat(size)}`),
    raw("braces that do not close", (size) => `1\n00:00:01,000 --> 00:00:02,000\n${"{\\".repeat(size)}`),
    raw("WebVTT", (size) => vtt(size, spoken)),
    raw("WebVTT with blocks that are lost", (size) => `WEBVTT\n\n${times(size, (n) => `lost ${n}\n`).join("\n")}`),
    raw("timed text", (size) => times(size, (n) => `[${seconds(n * 5)}] ${spoken(n)}`).join("\n\n")),
    raw(
      "timed text with times that are none",
      (size) => `[0:01] One\n\n${times(size, () => "[1:2:3:4] Words.").join("\n\n")}`,
    ),
    raw("plain text", (size) => times(size, spoken).join("\n\n")),
    raw("plain text in one line", (size) => times(size, spoken).join(" ")),
    raw("blanks in one line", (size) => `word${" ".repeat(size * 10)}word`),
    raw("blank lines", (size) => `word${"\n".repeat(size * 10)}word`),
    raw("lines of blanks", (size) => `word\n${"  \n".repeat(size * 5)}word`),
    raw("digits and marks", (size) => "1,".repeat(size * 10)),
    raw("dashes of arrows", (size) => "1.1 -".repeat(size * 5)),
    raw("Windows-1252", (size) => times(size, spoken).join("\n")),
    raw("word list", (size) => list(size, (n) => ({ start: n / 2, end: n / 2 + 0.4, word: inventedWord(n) }))),
    raw("word list of entries without words", (size) => list(size, (n) => ({ start: n / 2, end: n / 2 + 0.4 }))),
    raw("word list whose times run back", (size) =>
      list(size, (n) => ({ start: (size - n) / 2, end: (size - n) / 2 - 1, word: inventedWord(n) })),
    ),
    raw("word list in segments", (size) =>
      JSON.stringify({ segments: times(size, (n) => ({ words: [{ start: n / 2, end: n / 2 + 0.4, word: "week" }] })) }),
    ),
    raw("brackets", (size) => `[${"[".repeat(size)}`),
    grown(
      "edited text",
      (own) => parseEdited(own, ["Ilse Marrane"]),
      (size) => times(size, (n) => `ILSE MARRANE: ${spoken(n)}`).join("\n\n"),
    ),
    grown(
      "edited text of strangers",
      (own) => parseEdited(own, ["Ilse Marrane"]),
      (size) => times(size, (n) => `${inventedWord(n).toUpperCase()}: ${spoken(n)}`).join("\n\n"),
    ),
    grown(
      "edited text in one line",
      (own) => parseEdited(own, []),
      (size) => `Name${" a".repeat(size * 5)}`,
    ),
    grown(
      "running order",
      (own) => parseRunningOrder(own, SLOT),
      (size) => `title,kind,in\n${times(size, (n) => `${inventedWord(n)},reader,${seconds(n * 10)}`).join("\n")}`,
    ),
    grown(
      "running order of one title",
      (own) => parseRunningOrder(own, SLOT),
      (size) => `title,kind\n${times(size, () => "Weather,reader").join("\n")}`,
    ),
    grown(
      "running order with times that are none",
      (own) => parseRunningOrder(own, SLOT),
      (size) => `title,kind,in\n${times(size, (n) => `Item ${n},strange ${n},soon`).join("\n")}`,
    ),
    grown(
      "running order in a quotation",
      (own) => parseRunningOrder(own, SLOT),
      (size) => `title,kind\n"${"Weather,reader\n".repeat(size)}`,
    ),
    grown(
      "columns of a running order",
      (own) => parseRunningOrder(own, SLOT),
      (size) => `title,${times(size, inventedWord).join(",")}\nWeather`,
    ),
    captions("cues", (size) => vtt(size, (n) => `<v Ilse Marrane>${spoken(n)}`)),
    captions(
      "cues at one time",
      (size) => `WEBVTT\n\n${times(size, (n) => `00:01.000 --> 00:02.000\n${spoken(n)}\n`).join("\n")}`,
    ),
    captions(
      "cues with ids",
      (size) =>
        `WEBVTT\n\n${times(size, (n) => `same\n${seconds(n)}.000 --> ${seconds(n + 1)}.000\n${spoken(n)}\n`).join("\n")}`,
    ),
    captions("voices of one cue", (size) =>
      oneCue(times(size, (n) => `<v ${inventedWord(n)}>${spoken(n)}`).join("\n")),
    ),
    captions("tags in tags", (size) => oneCue("<i>".repeat(size))),
    captions("voices in voices", (size) => oneCue(`${"<v A>".repeat(size)}word`)),
    captions("tags that close nothing", (size) => oneCue(`${"<b>".repeat(size)}${"</i>".repeat(size)}`)),
    captions("tags that do not end", (size) => oneCue("<v ".repeat(size * 5))),
    captions("classes of a tag", (size) => oneCue(`<c${".loud".repeat(size)}>word`)),
    captions("references", (size) => oneCue("&amp;&lt;&nosuch;&".repeat(size))),
    captions("lines of one cue", (size) => oneCue("word\n".repeat(size))),
    captions("settings of one cue", (size) => `WEBVTT\n\n00:00.000 --> 00:10.000${" line:1".repeat(size)}\nword\n`),
    captions(
      "regions",
      (size) =>
        `WEBVTT\n\n${times(size, (n) => `REGION\nid:${inventedWord(n)}\n`).join("\n")}\n00:00.000 --> 00:10.000\nword\n`,
    ),
    captions("notes", (size) => `WEBVTT\n\n${"NOTE words\n\n".repeat(size)}\n00:00.000 --> 00:10.000\nword\n`),
    captions("arrows", (size) => `WEBVTT\n\n${"-->\n".repeat(size)}`),
    captions("blank lines", (size) => `WEBVTT\n${"\n".repeat(size * 10)}00:00.000 --> 00:10.000\nword\n`),
    grown(
      "front matter",
      splitFront,
      (size) => `---\n${times(size / 4, (n) => `key-${n}: value ${n}`).join("\n")}\n---\n`,
    ),
    grown(
      "one list of front matter",
      splitFront,
      (size) => `---\nlist:\n${times(size / 4, (n) => `  - { in: 0:${n}, title: Title ${n} }`).join("\n")}\n---\n`,
    ),
    grown("brackets of front matter", splitFront, (size) => `---\na: ${"[".repeat(size)}\n---\n`),
    grown("faults of front matter", splitFront, (size) => `---\n${"a: b: c\n".repeat(size / 4)}---\n`),
    grown("a body below front matter", splitFront, (size) => `---\na: b\n---\n${times(size, spoken).join("\n")}`),
    grown("closing lines of front matter", splitFront, (size) => `---\na: b\n${"---\n".repeat(size)}`),
    notes("paragraphs", (size) => times(size, spoken).join("\n\n")),
    notes("one paragraph", (size) => times(size, spoken).join("\n")),
    notes("emphasis", (size) => "*word **word** ".repeat(size)),
    notes("brackets", (size) => "[".repeat(size)),
    notes("links that do not close", (size) => "[a](".repeat(size)),
    notes(
      "references",
      (size) => `${times(size, (n) => `[${inventedWord(n)}]: /a`).join("\n")}\n\n${"[a][b]".repeat(size)}`,
    ),
    notes("quotations in quotations", (size) => `${">".repeat(size)} word`),
    notes("lists", (size) => "- word\n".repeat(size)),
    notes("lists in lists", (size) => times(Math.sqrt(size), (n) => `${" ".repeat(n * 2)}- word`).join("\n")),
    notes("backticks", (size) => times(Math.sqrt(size), (n) => "`".repeat(n)).join(" ")),
    notes("references to characters", (size) => "&amp;&".repeat(size)),
    notes("autolinks", (size) => "<https://a".repeat(size)),
    notes("a table of pipes", (size) => `a|b\n-|-\n${"a|b\n".repeat(size)}`),
  ];
}
