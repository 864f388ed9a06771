import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { DateTime } from "luxon";
import { stringify } from "yaml";
import type { CorrectionKind } from "../model/episode.ts";
import { listEpisodes } from "../read/index.ts";
import { entriesOf, type ReadRecord } from "../record/entry.ts";

/** What a correction says, as flags or answers gave it; null: not given. */
export interface Draft {
  readonly kind: CorrectionKind | null;
  readonly segment: string | null;
  /** `3:41`. */
  readonly at: string | null;
  readonly field: string | null;
  readonly said: string | null;
  readonly now: string | null;
  readonly every: boolean;
  readonly signed: string | null;
  readonly supersedes: string | null;
  /** Markdown. */
  readonly note: string | null;
}

/** The text of a correction's file. `dated`: ISO 8601 with offset. */
export function correctionText({ note, every, ...draft }: Draft, dated: string): string {
  const { kind, segment, at, field, said, now, signed, supersedes } = draft;
  const given = { dated, kind, segment, at, field, said, now, every: every ? true : null, signed, supersedes };
  const front = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== null));
  return `---\n${stringify(front, { lineWidth: 0 })}---\n${(note ?? "").trim()}\n`;
}

/** The moment in the programme's zone, to the second: `2026-10-06T09:40:00+01:00`. */
export function datedNow(now: Date, zone: string): string {
  const text = DateTime.fromJSDate(now, { zone }).startOf("second").toISO({ suppressMilliseconds: true });
  if (text === null) throw new Error("no moment");
  return text;
}

const NAME = /^(\d{4}-\d\d-\d\d)-(\d+)(?:\.md)?$/;

/**
 * The next free name of a day: numbers count through the whole archive, because a correction has its own address on
 * the site. A number whose file is gone is not given again.
 */
export async function nextId(content: string, day: string, record: ReadRecord): Promise<string> {
  const { episodes } = listEpisodes(content);
  const listed = await Promise.all(episodes.map(({ folder }) => namesIn(join(content, folder, "corrections"))));
  const entered = entriesOf(record).flatMap(({ correction }) => correction?.id ?? []);
  const taken = [...listed.flat(), ...entered].flatMap((name) => {
    const [, own, number] = NAME.exec(name) ?? [];
    return own === day && number !== undefined ? [Number(number)] : [];
  });
  return `${day}-${Math.max(0, ...taken) + 1}`;
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return [];
    throw error;
  }
}
