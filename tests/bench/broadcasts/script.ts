/** A broadcast's script: what is said, by whom, in which segment, and what was said wrong on purpose. */

/** Something to lay down: a paragraph of one speaker, or computed music. */
export type Line =
  | { readonly speaker: string; readonly text: string }
  | { readonly sound: string; readonly seconds: number; readonly mood: string };

export interface ScriptSegment {
  readonly slug: string;
  readonly kind: string;
  readonly title: string;
  readonly by: readonly string[];
  /** As the running order prints it: `1:20`. */
  readonly planned: string;
  readonly topics: readonly string[];
  readonly places: readonly string[];
  readonly cautions: readonly string[];
  readonly rights: { readonly holder: string; readonly show: string } | null;
  readonly lines: readonly Line[];
}

/** A mistake that goes out on air. */
export interface ScriptFault {
  readonly kind: string;
  readonly segment: string;
  readonly said: string;
  readonly correct: string;
  readonly why: string;
}

/** A mistake of a recogniser that a program puts in: its kind, and what it needs to know. */
export interface Noise {
  readonly kind: string;
  readonly cells: readonly string[];
}

export interface Script {
  readonly programme: string;
  readonly station: string;
  readonly title: string;
  readonly aired: string;
  readonly language: string;
  readonly seed: number;
  readonly noises: readonly Noise[];
  readonly segments: readonly ScriptSegment[];
  readonly faults: readonly ScriptFault[];
}

const cellsOf = (text: string): string[] => text.split("|").map((cell) => cell.trim());
const listOf = (text: string | undefined): string[] =>
  (text ?? "")
    .split(/[,;]/)
    .map((one) => one.trim())
    .filter((one) => one !== "");

/**
 * Reads a script. Lines: `key: value` (about what is above it), `# slug | kind | title | by | planned` (a segment),
 * `~ what seconds mood` (music), `NAME: text` (speech), `% kind | …` (a recogniser's mistake) and
 * `! kind | segment | said | correct | why` (a mistake on air).
 * @param names of the register: a speaker stands in capitals. @throws where a line is none of these.
 */
export function parseScript(text: string, names: readonly string[]): Script {
  const speakers = new Map(names.map((name) => [name.toUpperCase(), name]));
  const head = new Map<string, string>();
  const segments: { cells: string[]; head: Map<string, string>; lines: Line[] }[] = [];
  const [faults, noises]: [ScriptFault[], Noise[]] = [[], []];
  for (const line of text.split("\n").filter((own) => own.trim() !== "")) {
    const current = segments.at(-1);
    const [sign, rest] = [line.slice(0, 2), line.slice(2)];
    const pair = /^([^:]{1,60}): +(.*)$/.exec(line);
    const speaker = speakers.get(pair?.[1] ?? "");
    if (sign === "# ") segments.push({ cells: cellsOf(rest), head: new Map(), lines: [] });
    else if (sign === "~ ") current?.lines.push(soundFrom(rest));
    else if (sign === "% ") {
      const [kind = "", ...cells] = cellsOf(rest);
      noises.push({ kind, cells });
    } else if (sign === "! ") {
      const [kind = "", segment = "", said = "", correct = "", why = ""] = cellsOf(rest);
      faults.push({ kind, segment, said, correct, why });
    } else if (pair !== null && speaker !== undefined) current?.lines.push({ speaker, text: pair[2] ?? "" });
    else if (pair !== null && /^[a-z]+$/.test(pair[1] ?? "")) (current?.head ?? head).set(pair[1] ?? "", pair[2] ?? "");
    else throw new Error(`A line of the script is nothing known: ${line.slice(0, 80)}`);
  }
  const own = (key: string) => head.get(key) ?? "";
  return {
    programme: own("programme"),
    station: own("station"),
    title: own("title"),
    aired: own("aired"),
    language: own("language"),
    seed: Number(own("seed")),
    noises,
    segments: segments.map(segmentFrom),
    faults,
  };
}

function segmentFrom(read: {
  readonly cells: readonly string[];
  readonly head: ReadonlyMap<string, string>;
  readonly lines: readonly Line[];
}): ScriptSegment {
  const [slug = "", kind = "", title = "", by = "", planned = ""] = read.cells;
  const [holder = "", show = "transcript"] = cellsOf(read.head.get("rights") ?? "");
  return {
    slug,
    kind,
    title,
    by: listOf(by),
    planned,
    topics: listOf(read.head.get("topics")),
    places: listOf(read.head.get("places")),
    cautions: listOf(read.head.get("cautions")),
    rights: holder === "" ? null : { holder, show },
    lines: read.lines,
  };
}

/** @param text `break music 22 slow` */
function soundFrom(text: string): Line {
  const [, sound = "", seconds = "", mood = "plain"] = /^(.*?) +([\d.]+)(?: +(\w+))?$/.exec(text.trim()) ?? [];
  if (sound === "") throw new Error(`Music needs a length: ${text}`);
  return { sound, seconds: Number(seconds), mood };
}

/** The sentences of a paragraph. A figure with a full stop ends none in German: `3. November`. */
export function sentencesIn(text: string, language: string): readonly string[] {
  const ends = language.startsWith("de")
    ? /(?<=(?<!(?<!\d)\d{1,2})[.?!])\s+(?=[\p{Lu}\d{„])/u
    : /(?<=[.?!]|\.')\s+(?=[\p{Lu}\d{'])/u;
  return text.split(ends);
}
