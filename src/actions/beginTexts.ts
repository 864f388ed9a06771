import { Document } from "yaml";

/** What a station is asked for. Each as programme.md takes it. */
export interface StationAnswers {
  readonly title: string;
  /** IANA zone. */
  readonly timezone: string;
  /** BCP 47. */
  readonly language: string;
  /** Absolute, with a slash at its end. */
  readonly url: string;
}

/** What programme.md may have besides, to be uncommented: every line as it would be written. */
const MAY_HAVE = [
  " station: Verrin Islands Broadcasting",
  ' slot: { at: "18:30", runs: "28:00", days: weeknights }',
  " reports: mailto:corrections@example.org",
  " presenters: [Tamsin Hathersay]           # as names/tamsin-hathersay.md spells her",
  " code: https://example.org/code/          # the station's own editorial code, for the desk",
  " mediahosts: [https://media.example.org]",
  " poster: poster.svg                       # a picture beside this file; posteralt says what it shows",
].join("\n");

/** programme.md of a new station. */
export function programmeText({ title, language, timezone, url }: StationAnswers): string {
  const document = new Document({ title, timezone, language, url });
  document.commentBefore = " yaml-language-server: $schema=./.schemas/programme.schema.json";
  document.comment = ` What it may have besides; take the # away:\n${MAY_HAVE}`;
  const yaml = document.toString({ lineWidth: 0 }).replace(/^(#.*\n)\n/, "$1");
  return `---\n${yaml}---\nWrite here what the programme is about: this is the page *About*.\n`;
}

export const GIT_ATTRIBUTES = `# Published files are proved byte for byte: no line end is turned into another.
* -text
# A record and a published text are never merged line by line: \`afterair publish --merge\` makes one of two records.
record.jsonl -merge
transcript*.vtt -merge
`;

export const CORRECTIONS_POLICY = `---
# yaml-language-server: $schema=../.schemas/page.schema.json
title: How we correct
summary: What happens when we get something wrong, and why nothing is ever changed in silence.
order: 1
---
- **The programme said it wrong.** A transcript says what was said, so the words stand. The correction stands beside
  them, dated and signed.
- **We wrote it down wrong.** We replace the words and keep what stood there.
- **A title, a summary, a name or a time on a page was wrong.** We replace it and say so.
- **The words were right but not enough.** We add a clarification.
- **Something has happened since.** We add an update.
- **Something should not have been published.** We take it away, say so, and say why as far as we may.

Every correction has its own address, and all of them are in [the log](/corrections/), for good.
`;

/** The example's folder, which can be taken away by itself. */
export const EXAMPLE_ID = "2026-10-05";

export const EXAMPLE_EPISODE = `---
# yaml-language-server: $schema=../../../.schemas/episode.schema.json
title: "An example: the harbour lamp is lit again"
summary: "Everything in it is invented. Take this folder away when you have seen how an episode is written."
aired: 2026-10-05T18:30:00
duration: 0:30
clock: aired
accepted:
  - rule: speaker-not-in-register
    dated: 2026-10-05
    by: Afterair
    why: The example's people are invented, and in no register.
segments:
  - slug: harbour-lamp
    kind: reader
    title: The harbour lamp is lit again
    in: 0:00
    by: [Tamsin Hathersay]
    places: [Sollen]
    summary: "The lamp at Sollen harbour burns again."
  - slug: weather
    kind: weather
    title: Calm until Wednesday
    in: 0:15.500
    by: [Bettany Vellick]
---
Below the front matter stand the programme notes. An episode with a recording names it in \`media\`; this one has none.
`;

interface ExampleCue {
  readonly at: string;
  readonly who: string;
  readonly words: string;
}

const EXAMPLE_CUES: readonly ExampleCue[] = [
  {
    at: "00:00:00.500 --> 00:00:05.500",
    who: "Tamsin Hathersay",
    words: "Good evening. The harbour lamp\nat Sollen burns again tonight.",
  },
  {
    at: "00:00:05.500 --> 00:00:10.500",
    who: "Tamsin Hathersay",
    words: "It had been dark since the storm,\nand the boats came in by torchlight.",
  },
  {
    at: "00:00:10.500 --> 00:00:15.000",
    who: "Tamsin Hathersay",
    words: "Here is Bettany Vellick\nwith the weather.",
  },
  {
    at: "00:00:16.000 --> 00:00:21.500",
    who: "Bettany Vellick",
    words: "It stays calm until Wednesday,\nwith a light wind from the west.",
  },
  {
    at: "00:00:21.500 --> 00:00:27.000",
    who: "Bettany Vellick",
    words: "On Thursday the rain comes back,\nfirst to the outer skerries.",
  },
];

/** The example's transcript: English, and marked so where the programme is spoken in another language. */
export function exampleTranscript(language: string): string {
  const isEnglish = language.split("-")[0]?.toLowerCase() === "en";
  const cues = EXAMPLE_CUES.map(
    ({ at, who, words }) => `${at}\n<v ${who}>${isEnglish ? words : `<lang en>${words}</lang>`}\n`,
  );
  return ["WEBVTT\n", ...cues].join("\n");
}
