import { formatClock, formatClockExact, parseClock } from "../model/clock.ts";
import type { Draft } from "../model/correctionDraft.ts";
import { CORRECTION_KINDS, correctionKind, kindDoes } from "../model/correctionKinds.ts";
import { PAGE_FIELDS } from "../model/episode.ts";
import { markedIn } from "../model/excerpt.ts";
import { clockMs } from "../model/units.ts";
import type { LaidCue, LaidEpisode } from "../record/laid.ts";
import { type FoundWords, findWords, nearestFound, nearestWords } from "../record/search.ts";
import type { Ask, Choice } from "./recordIo.ts";

/** Cues around a moment that are offered, in milliseconds either side. */
const NEAR_MS = 15_000;
const WHOLE = "(the whole episode)";

/** Asks for what a draft leaves open; null where whoever was asked went away. */
export async function askDraft(given: Draft, laid: LaidEpisode, ask: Ask): Promise<Draft | null> {
  const kinds = CORRECTION_KINDS.map((value) => ({ value, label: value, hint: correctionKind(value).hint }));
  const kind = given.kind ?? (await ask.choose("What went wrong?", kinds));
  if (kind === null) return null;
  const about = await askSubject({ ...given, kind }, laid, ask);
  if (about === null) return null;
  const note = about.note ?? (await ask.text("The note that the public reads:"));
  if (note === null) return null;
  const signed = about.signed ?? (await ask.text("Signed:", { placeholder: "Standards editor" }));
  return signed === null ? null : { ...about, note, signed };
}

async function askSubject(draft: Draft, laid: LaidEpisode, ask: Ask): Promise<Draft | null> {
  const { kind } = draft;
  if (kind === null || kindDoes(kind, "adds-note")) return askWords(draft, laid, ask, true);
  if (kindDoes(kind, "replaces-field")) return askField(draft, laid, ask);
  if (kindDoes(kind, "takes-away")) return askSegment(draft, laid, ask);
  return draft.field === "speaker" ? askNow(draft, ask) : askWords(draft, laid, ask, false);
}

async function askSegment(draft: Draft, { segments }: LaidEpisode, ask: Ask): Promise<Draft | null> {
  if (draft.segment !== null) return draft;
  const choices = segments.map(({ slug, title }) => ({ value: slug, label: title, hint: slug }));
  const chosen = await ask.choose("Of what?", [...choices, { value: WHOLE, label: WHOLE }]);
  return chosen === null ? null : { ...draft, segment: chosen === WHOLE ? null : chosen };
}

async function askField(draft: Draft, laid: LaidEpisode, ask: Ask): Promise<Draft | null> {
  const about = await askSegment(draft, laid, ask);
  if (about === null) return null;
  const segment = laid.segments.find(({ slug }) => slug === about.segment);
  const fields = about.segment === null ? (["title", "summary"] as const) : PAGE_FIELDS;
  const known = fields.find((field) => field === about.field);
  const field =
    known ??
    (await ask.choose(
      "Which part of the page?",
      fields.map((value): Choice<string> => ({ value, label: value })),
    ));
  if (field === null) return null;
  const published: Readonly<Record<string, string>> = {
    title: segment?.title ?? laid.title,
    summary: (segment === undefined ? laid.summary : segment.summary) ?? "",
    by: segment?.by.join(", ") ?? "",
    in: segment === undefined ? "" : formatClockExact(segment.in),
    out: segment === undefined ? "" : formatClockExact(segment.out),
  };
  return askNow({ ...about, field, said: about.said ?? published[field] ?? "" }, ask);
}

async function askNow(draft: Draft, ask: Ask): Promise<Draft | null> {
  if (draft.now !== null) return draft;
  const now = await ask.text(`Instead of "${draft.said ?? ""}":`);
  return now === null ? null : { ...draft, now };
}

/** Finds the passage by words or by time. `optional`: a note may also stand at no words. */
async function askWords(draft: Draft, laid: LaidEpisode, ask: Ask, optional: boolean): Promise<Draft | null> {
  const found = draft.said === null ? await search(draft, laid, ask, optional) : draft;
  if (found === null) return null;
  if (found.said === null) return askSegment(found, laid, ask);
  return kindDoes(found.kind, "replaces-words") ? askNow(found, ask) : found;
}

async function search(draft: Draft, laid: LaidEpisode, ask: Ask, optional: boolean): Promise<Draft | null> {
  const question = optional ? "The words, or a time (3:41); empty for none:" : "The words, or a time (3:41):";
  for (let given = draft.at; ; given = null) {
    const sought = given ?? (await ask.text(question, { optional }));
    if (sought === null) return null;
    if (sought.trim() === "") {
      if (optional) return draft;
      continue;
    }
    const moment = parseClock(sought.trim());
    const said = moment === null ? sought : await wordsAt(moment, laid, ask);
    if (said === null) return null;
    const places = findWords(said, laid.cues, laid.segments, draft.segment);
    const chosen = moment === null ? await askWhich(places, ask) : (nearestFound(places, clockMs(moment)) ?? null);
    if (chosen !== null)
      return { ...draft, said: chosen.words, at: chosen.at, segment: draft.segment ?? chosen.segment };
    if (places.length > 0 || !(await goOn(said, laid, ask))) return null;
  }
}

async function wordsAt(moment: number, { cues }: LaidEpisode, ask: Ask): Promise<string | null> {
  const near = cues.filter(({ start, end }) => start - NEAR_MS <= moment && moment <= end + NEAR_MS);
  const choices = near.map((cue, index) => ({
    value: String(index),
    label: formatClock(cue.start),
    hint: wordsOf(cue),
  }));
  if (choices.length === 0) return "";
  const chosen = await ask.choose("In which of these?", choices);
  const cue = chosen === null ? undefined : near[Number(chosen)];
  if (cue === undefined) return null;
  return ask.text(`Which words of it? ${wordsOf(cue)}`);
}

const wordsOf = ({ pieces }: LaidCue): string =>
  pieces
    .map(({ words }) => words)
    .join(" ")
    .replace(/\s+/g, " ")
    .trim();

async function goOn(said: string, { cues }: LaidEpisode, ask: Ask): Promise<boolean> {
  const near = nearestWords(said, cues);
  const hint = near === undefined ? "" : ` The nearest are "${near.words}" at ${formatClock(near.clock)}.`;
  return (await ask.confirm(`Those words are not there.${hint} Look for others?`)) === true;
}

/** Lets one of several places be chosen; null where there is none, or whoever was asked went away. */
export async function askWhich(found: readonly FoundWords[], ask: Ask): Promise<FoundWords | null> {
  const [only, second] = found;
  if (only === undefined || second === undefined) return only ?? null;
  const choices = found.map((own, index) => ({
    value: String(index),
    label: `${own.at}  ${markedIn(own)}`,
    hint: own.segment ?? "",
  }));
  const chosen = await ask.choose("Which of these?", choices);
  return chosen === null ? null : (found[Number(chosen)] ?? null);
}
