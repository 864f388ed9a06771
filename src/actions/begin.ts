import { existsSync, lstatSync, readdirSync, realpathSync, statSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { UsageError } from "../model/usageError.ts";
import { type Judge, judgeLine } from "../read/fields.ts";
import { judgeLanguage, judgeSiteUrl } from "../read/links.ts";
import { jsonSchemas, schemaText } from "../read/schemas.ts";
import { judgeZone } from "../read/zone.ts";
import { writeNewFolder } from "../write/scaffold.ts";
import {
  CORRECTIONS_POLICY,
  EXAMPLE_EPISODE,
  EXAMPLE_ID,
  exampleTranscript,
  GIT_ATTRIBUTES,
  programmeText,
  type StationAnswers,
} from "./beginTexts.ts";

export type { StationAnswers } from "./beginTexts.ts";

/** What a new station is asked for, in this order. */
export const STATION_QUESTIONS = [
  "title",
  "timezone",
  "language",
  "url",
] as const satisfies readonly (keyof StationAnswers)[];
export type StationQuestion = (typeof STATION_QUESTIONS)[number];

const JUDGES: Readonly<Record<StationQuestion, Judge<string>>> = {
  title: judgeLine,
  timezone: judgeZone,
  language: judgeLanguage,
  url: judgeSiteUrl,
};

/** An answer as programme.md takes it, or what is wrong with it and the mend, as sentences. */
export function judgeStationAnswer(
  question: StationQuestion,
  answer: string,
): { readonly ok: true; readonly value: string } | { readonly ok: false; readonly says: string } {
  const judged = JUDGES[question](answer.trim());
  return judged.ok ? judged : { ok: false, says: `This ${judged.fault.says}. ${judged.fault.mend}` };
}

/** Throws where a folder is not one for a new station, and touches nothing. @throws UsageError with the reason and the mend. */
export function requireForStation(folder: string): void {
  const full = resolve(folder);
  const no = (says: string, mend = "Name a folder that is new or empty, such as content."): never => {
    throw new UsageError(`Nothing was written: ${says} ${mend}`);
  };
  if (full === resolve("."))
    no(`${folder} is the folder that the command was called in.`, "Name one in it, such as content.");
  const around = contentAround(real(dirname(full)));
  if (around !== null)
    no(`${folder} lies in the content of another programme, ${around}.`, "Name a folder outside it.");
  const found = lstatSync(full, { throwIfNoEntry: false });
  if (found === undefined) return;
  if (!found.isDirectory()) no(`${folder} is no folder.`);
  const files = readdirSync(full);
  if (files.length === 0) return;
  if (files.includes("programme.md")) no(`${folder} has a programme already.`);
  no(`${folder} has files in it (${files.slice(0, 3).join(", ")}${files.length > 3 ? " …" : ""}).`);
}

/** A folder with its links followed, as far as it is there. */
function real(folder: string): string {
  return existsSync(folder) || dirname(folder) === folder
    ? realpathSync(folder)
    : join(real(dirname(folder)), basename(folder));
}

/** The nearest folder with a programme.md, from this one up; null: there is none. */
function contentAround(folder: string): string | null {
  if (statSync(join(folder, "programme.md"), { throwIfNoEntry: false })?.isFile() === true) return folder;
  return dirname(folder) === folder ? null : contentAround(dirname(folder));
}

/** Where the example stands, for whoever takes it away. */
export const exampleFolder = (folder: string): string => join(folder, "episodes", EXAMPLE_ID.slice(0, 4), EXAMPLE_ID);

/**
 * `afterair begin`: the content folder of a new station, with one example, whole or not at all.
 * @throws UsageError where the folder is not new or empty, lies in another's content, or an answer can't stand.
 */
export async function beginStation(folder: string, answers: StationAnswers): Promise<void> {
  requireForStation(folder);
  const judged = STATION_QUESTIONS.map((question) => {
    const one = judgeStationAnswer(question, answers[question]);
    if (!one.ok) throw new UsageError(`--${question} ${answers[question]}: ${one.says} Nothing was written.`);
    return [question, one.value] as const;
  });
  const values = { ...answers, ...Object.fromEntries(judged) };
  const example = exampleFolder("");
  const isNew = await writeNewFolder(
    resolve(folder),
    [
      { name: "programme.md", text: programmeText(values) },
      { name: ".gitattributes", text: GIT_ATTRIBUTES },
      { name: "pages/corrections-policy.md", text: CORRECTIONS_POLICY },
      { name: `${example}/episode.md`, text: EXAMPLE_EPISODE },
      { name: `${example}/transcript.vtt`, text: exampleTranscript(values.language) },
      ...Object.entries(jsonSchemas()).map(([name, schema]) => ({
        name: `.schemas/${name}.schema.json`,
        text: schemaText(schema),
      })),
    ],
    { mayBeEmpty: true },
  );
  if (!isNew) throw new UsageError(`Nothing was written: somebody else wrote to ${folder} just now.`);
}
