import { existsSync, readFileSync } from "node:fs";
import { cp, mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { parse } from "csv-parse/sync";
import type { RegisteredName } from "../../src/model/programme.ts";
import { parseName } from "../../src/read/index.ts";
import { DEMO } from "./site.ts";

/** The programme that a broadcast is an edition of. */
export interface OwnProgramme {
  readonly title: string;
  readonly station: string;
  readonly language: string;
  /** Local time of day, `18:30`. */
  readonly slotAt: string;
  readonly presenters: readonly string[];
  readonly names: readonly RegisteredName[];
  readonly people: readonly RegisteredName[];
}

/**
 * A broadcast's programme: its truth's title, station, language and hour; the register in the `names.csv` beside its
 * folder; and as presenters those whom the register calls `presenter of` it. null where there is no such register.
 */
export function ownProgramme(folder: string): OwnProgramme | null {
  const register = join(dirname(folder), "names.csv");
  if (!existsSync(register)) return null;
  const truth: { programme: string; station: string; language: string; aired: string } = JSON.parse(
    readFileSync(join(folder, "truth.json"), "utf8"),
  );
  const names = filesOf(register).flatMap((source) => {
    const read = parseName(source);
    if (!read.ok) throw new Error(`${register}: ${source.file} is no name.`);
    return [read.value];
  });
  // The demo's own broadcasts: its register has more to say of the same people.
  if (truth.programme === "The Evening Tide") return null;
  return {
    title: truth.programme,
    station: truth.station,
    language: truth.language,
    slotAt: truth.aired.slice(11, 16),
    presenters: names.filter(({ role }) => role === `presenter of ${truth.programme}`).map(({ name }) => name),
    names,
    people: names.filter(({ kind }) => kind === "person"),
  };
}

/** The lines of a register as files of `names/`. */
function filesOf(register: string): readonly { readonly file: string; readonly bytes: Uint8Array }[] {
  const rows: Record<string, string>[] = parse(readFileSync(register), { columns: true });
  return rows.map(({ name = "", kind = "", role = "", say = "" }) => {
    const slug = name
      .normalize("NFD")
      .toLowerCase()
      .replace(/[^a-z0-9 -]/g, "")
      .replace(/ +/g, "-");
    const fields = Object.entries({ name, kind, role, say }).map(([key, value]) => `${key}: ${JSON.stringify(value)}`);
    return { file: `${slug}.md`, bytes: new TextEncoder().encode(`---\n${fields.join("\n")}\n---\n`) };
  });
}

/** Puts the programme of a broadcast into an empty content folder: the demo's where it has none of its own. */
export async function layProgramme(folder: string, content: string): Promise<void> {
  const own = ownProgramme(folder);
  for (const name of own === null ? ["programme.md", "poster.svg", "names"] : ["poster.svg"])
    await cp(join(DEMO, name), join(content, name), { recursive: true });
  if (own === null) return;
  await mkdir(join(content, "names"));
  for (const { file, bytes } of filesOf(join(dirname(folder), "names.csv")))
    await writeFile(join(content, "names", file), bytes);
  const lines = [
    `title: ${JSON.stringify(own.title)}`,
    `station: ${JSON.stringify(own.station)}`,
    `language: ${own.language}`,
    "timezone: Europe/London",
    "url: https://radio.example.org/",
    `slot: { at: "${own.slotAt}", runs: "8:00", days: weeknights }`,
    "framerate: 25",
    "reports: mailto:corrections@radio.example.org",
    `presenters: ${JSON.stringify(own.presenters)}`,
    "poster: poster.svg",
    "posteralt: A lighthouse",
  ];
  await writeFile(join(content, "programme.md"), `---\n${lines.join("\n")}\n---\nA programme.\n`);
}
