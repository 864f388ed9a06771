import {
  beginStation,
  exampleFolder,
  judgeStationAnswer,
  requireForStation,
  STATION_QUESTIONS,
  type StationAnswers,
  type StationQuestion,
} from "../actions/begin.ts";
import { UsageError } from "../model/usageError.ts";
import type { Ask } from "./recordIo.ts";

export interface BeginOptions extends Partial<StationAnswers> {
  readonly folder: string;
}

/** What the command needs of the world. */
export interface BeginIo {
  out(text: string): void;
  /** Null where nobody can be asked. */
  readonly ask: Ask | null;
  /** The zone and language of this machine. */
  readonly system: Pick<StationAnswers, "timezone" | "language">;
}

const ASKED: Readonly<Record<StationQuestion, string>> = {
  title: "What is the programme called?",
  timezone: "In which time zone is it broadcast?",
  language: "In which language is it spoken? A tag such as en-GB:",
  url: "At which address will the site stand? Such as https://tide.example.org/:",
};

/** `afterair begin`: a content folder for a new station, that builds at once. Asks for what no flag says, where it can. */
export async function begin({ folder, ...given }: BeginOptions, { out, ask, system }: BeginIo): Promise<void> {
  requireForStation(folder);
  const answers = ask === null ? withoutAsking(given, system) : await asked(given, system, ask);
  if (answers === null) return out("Nothing was written.");
  await beginStation(folder, answers);
  const flag = folder === "content" ? "" : ` --content ${folder}`;
  const { title, timezone, language } = answers;
  out(
    [
      `${folder}: ${title}, ${timezone}, ${language}, with an example.`,
      "",
      `    npx afterair preview${flag}    shows it on this machine`,
      `    npx afterair new DATE --transcript FILE${flag}    begins an episode`,
      `    npx afterair --help    lists the rest; the example goes when you delete ${exampleFolder(folder)}`,
    ].join("\n"),
  );
}

type Given = Partial<StationAnswers>;

function withoutAsking(given: Given, system: BeginIo["system"]): StationAnswers {
  const { title, url, timezone = system.timezone, language = system.language } = given;
  const missing = [...(title === undefined ? ["--title"] : []), ...(url === undefined ? ["--url"] : [])];
  if (title === undefined || url === undefined)
    throw new UsageError(`Nobody can be asked here: give ${missing.join(" and ")}. Nothing was written.`);
  return { title, url, timezone, language };
}

/** The answers, each judged as it is given; null where whoever was asked went away. */
async function asked(given: Given, system: BeginIo["system"], ask: Ask): Promise<StationAnswers | null> {
  const answers = { title: "", url: "", ...system, ...given };
  for (const question of STATION_QUESTIONS) {
    if (given[question] !== undefined) continue;
    const placeholder = question === "timezone" || question === "language" ? { placeholder: system[question] } : {};
    const answer = await ask.text(ASKED[question], {
      ...placeholder,
      wrong: (text) => {
        const judged = judgeStationAnswer(question, text);
        return judged.ok ? null : judged.says;
      },
    });
    if (answer === null) return null;
    answers[question] = answer;
  }
  return answers;
}
