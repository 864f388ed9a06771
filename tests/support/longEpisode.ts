import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { formatClockExact } from "../../src/model/clock.ts";

/** How long a caption of such an episode stands, in milliseconds: six thousand of them fill four hours. */
export const STANDS = 2400;
/** A segment begins every so many captions. */
const A_SEGMENT = 100;
/** Somebody else speaks after so many captions. */
const A_TURN = 7;
const SPEAKERS = ["Tamsin Hathersay", "Ilse Marrane", "Osmund Tarrick"] as const;
const WORDS = "the early boat leaves and comes back when people at home wait for what it brings".split(" ");

/** What a caption alone is called in it: no figure, which a check would compare with others. */
export const nameOf = (n: number): string =>
  `page ${[...n.toString(26)]
    .map((digit) => String.fromCharCode(97 + Number.parseInt(digit, 26)))
    .join("")
    .padStart(3, "a")}`;

/** The words of a caption: no other has the same. */
export const wordsOf = (n: number): string =>
  `This is ${nameOf(n)}: ${Array.from({ length: 2 }, (_, k) => WORDS[(n * 5 + k * 3) % WORDS.length]).join(" ")}.`;

/** Writes an episode of so many captions, without a recording, that nobody has published. Every tenth turn is proposed. */
export async function layLongEpisode(content: string, id: string, captions: number): Promise<void> {
  const folder = join(content, "episodes", id.slice(0, 4), id);
  await mkdir(folder, { recursive: true });
  const segments = Array.from({ length: Math.ceil(captions / A_SEGMENT) }, (_, k) => {
    const at = formatClockExact(k * A_SEGMENT * STANDS);
    return `  - slug: hour-${k + 1}\n    kind: interview\n    title: Conversation ${k + 1}\n    in: ${at}\n`;
  });
  const duration = formatClockExact(captions * STANDS);
  await writeFile(
    join(folder, "episode.md"),
    `---\ntitle: A long night\naired: ${id}T18:30:00\nduration: ${duration}\nclock: aired\nsegments:\n${segments.join("")}---\n`,
  );
  const cues = Array.from({ length: captions }, (_, n) => {
    const turn = Math.floor(n / A_TURN);
    const voice = `<v${turn % 10 === 9 ? ".proposed" : ""} ${SPEAKERS[turn % SPEAKERS.length]}>`;
    return `${stamp(n * STANDS)} --> ${stamp((n + 1) * STANDS)}\n${voice}${wordsOf(n)}</v>\n`;
  });
  await writeFile(join(folder, "transcript.vtt"), `WEBVTT\n\n${cues.join("\n")}`);
}

/** `01:02:03.400` */
const stamp = (ms: number): string => new Date(ms).toISOString().slice(11, 23);
