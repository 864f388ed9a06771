import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { alignWords } from "../../src/listen/align.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import type { AcousticModel } from "../../src/listen/alignModel.ts";
import { divide } from "../../src/listen/kinds.ts";
import { quantile } from "../support/evening.ts";
import { monoOf, noise } from "../support/sounds.ts";
import { leveled, mix, type Stock, stockIn, withNoise } from "./kindsMixed.ts";
import { framesFrom, kindsText } from "./listenKinds.ts";
import { benchGrouping, type Person } from "./listenVoices.ts";
import { trimmed } from "./trimmed.ts";

/** A recording of somebody, and the words that it has. */
interface Spoken {
  readonly samples: Float32Array;
  readonly text: string;
}

/** So many seconds lie between two recordings. */
const GAPS = [0.6, 1.4, 0.9];

/**
 * Measures on people's voices: readings (`pocketsphinx-testdata`) and prompts whose names are their words
 * (`asterisk-core-sounds-en-wav`, at a telephone's 8000 Hz), joined with known gaps, as they are and with white noise.
 * The packages are fetched by apt-get into a folder that goes again.
 */
export async function benchHuman(model: AcousticModel): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "afterair-human-"));
  try {
    const readings = await readingsIn(fetched(folder, "pocketsphinx-testdata"));
    const voice = fetched(folder, "asterisk-core-sounds-en-wav");
    const prompts = await promptsIn(voice);
    if (readings.length === 0 || prompts.length === 0)
      throw new Error("Nothing was measured: the packages have no recordings.");
    for (const [name, spoken] of [
      ["readings", readings],
      ["prompts", prompts],
    ] as const) {
      for (const db of [null, 15, 5]) measure(name, spoken, db, model);
    }
    const tunes = (name: string, path: string) => join(fetched(folder, name), path);
    const sounds = (root: string, own: string) => join(root, "usr/share/asterisk/sounds", own);
    measureKinds(
      "English prompts, music on hold (the figures were chosen on them)",
      await stockIn(sounds(voice, "en_US_f_Allison"), tunes("asterisk-moh-opsound-wav", "usr/share/asterisk/moh")),
    );
    measureKinds(
      "Russian prompts, a game's music (nothing was chosen on them)",
      await stockIn(
        sounds(fetched(folder, "asterisk-core-sounds-ru-wav"), "ru_RU_f_IvrvoiceRU"),
        tunes("asc-music", "usr/share/games/asc/music"),
      ),
    );
    await measureVoices(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Prompts by one person each. The Spanish ones are by the voice of the English ones. */
const PEOPLE = [
  "asterisk-core-sounds-en-wav",
  "asterisk-core-sounds-fr-wav",
  "asterisk-core-sounds-it-wav",
  "asterisk-core-sounds-ru-wav",
  "asterisk-prompt-it-menardi-wav",
];
/** A saying that is worth a sentence. Seconds. */
const [SHORTEST, LONGEST] = [1.2, 12] as const;
/** Files that hold no voice. */
const SOUNDS = /silence|beep|tone|monkeys|weasels/;
/** A smaller file has a word, or nothing. */
const BYTES = 24_000;

/** Voices told apart. The figures were chosen on such prompts, in other orders, with two telephone voices besides. */
async function measureVoices(folder: string): Promise<void> {
  const people: Person[] = [];
  for (const name of PEOPLE) {
    const root = join(folder, name);
    const files = readdirSync(existsSync(root) ? root : fetched(folder, name), { recursive: true, encoding: "utf8" });
    const sayings: Float32Array[] = [];
    for (const file of files
      .filter((own) => own.endsWith(".wav") && !SOUNDS.test(own) && statSync(join(root, own)).size > BYTES)
      .sort()) {
      const own = trimmed((await monoOf(join(root, file), RATE)).samples);
      if (own.length > SHORTEST * RATE && own.length < LONGEST * RATE) sayings.push(leveled(own));
    }
    people.push({ name, sayings });
  }
  for (const seed of [1, 2]) benchGrouping(people, seed);
  benchGrouping(people.slice(0, 3), 3);
  benchGrouping(people.slice(3), 4);
}

/** What is heard when, in prompts, music, tones and silences put together. */
function measureKinds(what: string, stock: Stock): void {
  const clean = mix(stock, 20);
  for (const [name, { samples, truth }] of [
    ["as they are", clean],
    ["noise at 15 dB", withNoise(clean, 15)],
  ] as const) {
    const division = divide(framesFrom(samples));
    process.stdout.write(
      `${what}, tones and silences, ${name}: ${kindsText(truth, division, samples.length / RATE)}\n`,
    );
  }
}

function fetched(folder: string, name: string): string {
  const download = spawnSync("apt-get", ["download", name], { cwd: folder });
  const file = readdirSync(folder).find((own) => own.startsWith(`${name}_`));
  if (file === undefined)
    throw new Error(`Nothing was measured: apt-get gave no ${name}: ${download.stderr.toString()}`);
  const out = join(folder, name);
  const unpacked = spawnSync("dpkg-deb", ["-x", join(folder, file), out]);
  if (unpacked.status !== 0) throw new Error(`Nothing was measured: ${name} can't be unpacked.`);
  return out;
}

async function readingsIn(root: string): Promise<readonly Spoken[]> {
  const data = join(root, "usr/share/pocketsphinx/test/data");
  const all = ["librivox/transcription", "cards/cards.transcription"].flatMap((list) => {
    const lines = readFileSync(join(data, list), "utf8").split("\n");
    return lines.flatMap((line) => {
      const [, words, file] = /^(.*)\((\S+)\)\s*$/.exec(line) ?? [];
      const text = words
        ?.replace(/<\/?s>/g, "")
        .trim()
        .toLowerCase();
      const path = join(data, list.split("/")[0] ?? "", `${file}.wav`);
      return text === undefined || !existsSync(path) ? [] : [{ path, text }];
    });
  });
  return spokenIn(all);
}

async function promptsIn(root: string): Promise<readonly Spoken[]> {
  const sounds = join(root, "usr/share/asterisk/sounds/en_US_f_Allison");
  const days = ["sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"];
  const months = "january february march april may june july august september october november december".split(" ");
  const named = [
    ...Array.from({ length: 21 }, (_, n) => [`digits/${n}`, String(n)] as const),
    ...days.map((day, n) => [`digits/day-${n}`, day] as const),
    ...months.map((month, n) => [`digits/mon-${n}`, month] as const),
    ["digits/hundred", "hundred"] as const,
    ["digits/thousand", "thousand"] as const,
  ];
  const found = named.map(([file, text]) => ({ path: join(sounds, `${file}.wav`), text }));
  return spokenIn(found.filter(({ path }) => existsSync(path)));
}

const spokenIn = (files: readonly { readonly path: string; readonly text: string }[]): Promise<readonly Spoken[]> =>
  Promise.all(files.map(async ({ path, text }) => ({ text, samples: trimmed((await monoOf(path, RATE)).samples) })));

function measure(name: string, spoken: readonly Spoken[], db: number | null, model: AcousticModel): void {
  const starts: number[] = [];
  let length = 1;
  spoken.forEach(({ samples }, n) => {
    starts.push(length);
    length += samples.length / RATE + (GAPS[n % GAPS.length] ?? 1);
  });
  const whole = new Float32Array(Math.ceil(length * RATE));
  spoken.forEach(({ samples }, n) => {
    whole.set(samples, Math.round((starts[n] ?? 0) * RATE));
  });
  const energy = spoken.reduce((sum, { samples }) => sum + samples.reduce((all, own) => all + own * own, 0), 0);
  const level = Math.sqrt(energy / spoken.reduce((sum, { samples }) => sum + samples.length, 0));
  // Noise that is spread evenly over -1 to 1 has an RMS of 1 over the root of 3.
  const added = db === null ? null : noise(whole.length, level * 10 ** (-db / 20) * Math.sqrt(3));
  const own = cepstra();
  own.take(added === null ? whole : whole.map((sample, n) => sample + (added[n] ?? 0)));
  const rough = spoken.flatMap(({ text }, n) =>
    text.split(" ").map((word) => {
      const at = (starts[n] ?? 0) * 1000 + (n % 2 === 0 ? 3000 : -3000);
      return { text: word, from: at, to: at };
    }),
  );
  const { words } = alignWords(rough, own.frames(), model);
  let at = 0;
  const off = spoken.map(({ text }, n) => {
    const word = words[at] ?? null;
    at += text.split(" ").length;
    return word === null ? null : Math.abs(word.start - (starts[n] ?? 0) * 1000);
  });
  const found = off.filter((own) => own !== null);
  const noiseText = db === null ? "as they are" : `noise at ${db} dB`;
  process.stdout.write(
    `People's ${name}, ${noiseText}: ${words.filter((word) => word !== null).length} of ${words.length} words found; ` +
      `${found.length} of ${off.length} starts, median ${Math.round(quantile(found, 0.5))} ms, 95 % within ${Math.round(quantile(found, 0.95))} ms\n`,
  );
}
