import { SILENT } from "../../build/progress.ts";
import type { RecordFolder } from "../../build/recordFolder.ts";
import { passagesFor } from "../../derive/complaint.ts";
import { segmentAt } from "../../derive/holdings.ts";
import { formatClock } from "../../model/clock.ts";
import type { Draft } from "../../model/correctionDraft.ts";
import { CORRECTION_KINDS, correctionKind, kindDoes } from "../../model/correctionKinds.ts";
import type {
  DeskChange,
  DeskCorrect,
  DeskDraft,
  DeskEntered,
  DeskPlace,
  DeskPreview,
  DeskRow,
} from "../../model/desk.ts";
import { PAGE_FIELDS } from "../../model/episode.ts";
import { blocks, type Finding } from "../../model/finding.ts";
import { UsageError } from "../../model/usageError.ts";
import type { LaidEpisode } from "../../record/laid.ts";
import { type FoundWords, findWords } from "../../record/search.ts";
import { type Correcting, enterCorrection, fillDraft, openToCorrect, previewCorrection } from "../correct.ts";
import { withdrawnElsewhere } from "../correctElsewhere.ts";
import type { CorrectionChange, ShownCue } from "../correctionChange.ts";
import type { RecordWorld } from "../publish.ts";
import { sameWordsElsewhere } from "../sameWords.ts";
import { firstFault } from "./firstFault.ts";
import { shownPublicly } from "./publicly.ts";

/** The episode as it is published now, to choose what is wrong. @throws UsageError where it is not published. */
async function publishedNow(about: Correcting, world: RecordWorld): Promise<LaidEpisode> {
  const { laid, findings } = await openToCorrect(about, world);
  if (laid === null) throw new UsageError(firstFault(findings) ?? "It can't be read.");
  return laid;
}

/** What the page of corrections begins with. */
export async function deskCorrect(content: string, id: string, world: RecordWorld): Promise<DeskCorrect> {
  const laid = await publishedNow({ content, episode: id, begun: world.clock() }, world);
  return {
    id,
    title: laid.title,
    segments: laid.segments.map(({ slug, title }) => ({ slug, title })),
    captions: rowsOf(laid),
    kinds: CORRECTION_KINDS.map((kind) => {
      const { name, hint, meaning, does } = correctionKind(kind);
      return { kind, name, hint, meaning, does };
    }),
    fields: PAGE_FIELDS,
  };
}

const rowsOf = ({ cues, segments }: LaidEpisode): DeskCorrect["captions"] =>
  cues.map(({ start, pieces }) => ({
    start,
    segment: segmentAt(start, segments)?.slug ?? null,
    voice: pieces[0]?.voice ?? null,
    text: pieces
      .map(({ words }) => words)
      .join(" ")
      .replace(/\s+/g, " ")
      .trim(),
  }));

/** The captions that a complaint may be about, by their places in `DeskCorrect.captions`; the best first. */
export async function complaintPassages(
  content: string,
  id: string,
  complaint: string,
  world: RecordWorld,
): Promise<readonly number[]> {
  const laid = await publishedNow({ content, episode: id, begun: world.clock() }, world);
  return passagesFor(complaint, rowsOf(laid));
}

/** When the page began its correction: it keeps its name from the preview to the entry. */
const aboutOf = (content: string, id: string, { begun }: DeskDraft): Correcting => {
  const moment = new Date(begun);
  if (Number.isNaN(moment.getTime())) throw new UsageError("The page sent no moment: load it again.");
  return { content, episode: id, begun: moment };
};

/** What a correction would do, exactly as it would be entered. Writes nothing. */
export async function deskPreview(
  content: string,
  id: string,
  draft: DeskDraft,
  world: RecordWorld,
): Promise<DeskPreview> {
  const about = aboutOf(content, id, draft);
  const laid = await publishedNow(about, world);
  const filled = fillDraft(draft.draft, laid);
  if (filled.state === "missing") return { is: "missing", names: filled.names };
  if (filled.state === "places") {
    const places = filled.found.map(({ at, before, words, after }) => ({ at, before, words, after }));
    return { is: "places", places };
  }
  const preview = await previewCorrection(filled.draft, about, world);
  const { findings, text, change, digest, read } = preview;
  const isBlocked = findings.some(blocks);
  const now = world.clock();
  return {
    is: "shown",
    isBlocked,
    findings: findings.map(said),
    text,
    change: change === null ? null : changeOf(change, id),
    public: isBlocked ? null : shownPublicly(read, preview.id, { content, now }),
    elsewhere: isBlocked ? [] : await elsewhereOf(filled.draft, about, { id: preview.id, read, now, laid }),
    digest,
    draft: filled.draft,
  };
}

interface Looked {
  readonly id: string;
  readonly read: RecordFolder;
  readonly now: Date;
  readonly laid: LaidEpisode;
}

/** Where else something may have to be corrected: the matter of a withdrawal, or the same words. */
async function elsewhereOf(
  { kind, said: words, field, at, every }: Draft,
  { content, episode: own }: Correcting,
  { id, read, now, laid }: Looked,
): Promise<readonly DeskPlace[]> {
  if (kindDoes(kind, "takes-away")) {
    const found = await withdrawnElsewhere({ content, id, read }, now, SILENT);
    return (found?.places ?? []).map(({ place, at: where }) => ({
      says: `${place.episode}: ${where().file}, line ${where().line}`,
      href: null,
    }));
  }
  if (words === null || field !== null) return [];
  const here = every ? [] : findWords(words, laid.cues, laid.segments).filter((found) => found.at !== at);
  const others = await sameWordsElsewhere(words, { content, own, now });
  return [
    ...here.map((found) => ({ says: `here, ${found.at}: ${inContext(found)}`, href: null })),
    ...others.map((found) => ({
      says: `${found.episode}, ${formatClock(found.clock)}: ${inContext(found)}`,
      href: found.published ? `/correct/${found.episode}` : `/words/${found.episode}#t=${found.clock / 1000}`,
    })),
  ];
}

const inContext = (found: Pick<FoundWords, "before" | "words" | "after">): string =>
  `…${found.before}${found.words}${found.after}…`;

const said = ({ says, mend }: Finding): string => `${says} ${mend}`;

function changeOf(change: CorrectionChange, id: string): DeskChange {
  switch (change.what) {
    case "field":
      return { what: "field", of: `${change.of}: ${change.field}`, before: change.said, after: change.now };
    case "taken-away": {
      const what = change.segment === null ? `the whole episode ${id}` : `the segment ${change.segment}`;
      const says = `Takes away ${what}: ${change.cues} captions, its titles, its summary and its sound. The note stays in their place.`;
      return { what: "note", says };
    }
    case "note":
      return {
        what: "note",
        says: `A note ${change.segment === null ? "on the episode" : `on ${change.segment}`}, at no words.`,
      };
    case "passages":
      return { what: "passages", before: change.before.map(rowOf), after: change.after.map(rowOf) };
  }
}

const rowOf = ({ start, touched, pieces }: ShownCue): DeskRow => ({
  at: formatClock(start),
  isTouched: touched,
  voice: pieces[0]?.voice ?? null,
  runs: pieces.flatMap(({ runs }) => runs.map(({ text, marked }) => ({ text, isMarked: marked }))),
});

/** Enters a correction that somebody saw. @param digest of the texts that they saw. */
export async function deskEnter(
  content: string,
  id: string,
  draft: DeskDraft,
  digest: string,
  world: RecordWorld,
): Promise<DeskEntered> {
  const entered = await enterCorrection(draft.draft, aboutOf(content, id, draft), digest, world);
  const says = entered.refused === null ? entered.findings.map(said) : [entered.refused, ...entered.findings.map(said)];
  return { id: entered.id, says };
}
