import type { CorrectionKind } from "../model/correctionKinds.ts";
import { kindDoes } from "../model/correctionKinds.ts";
import type { Finding } from "../model/finding.ts";
import { type Audited, type AuditInput, placeOf } from "./audited.ts";
import { cutCorrections, digestsEntered } from "./cutCorrections.ts";
import type { Digest } from "./digest.ts";
import { recordedIn } from "./enter.ts";
import type { Entry } from "./entry.ts";
import { changedFile } from "./judgeContent.ts";
import { layCorrections } from "./lay.ts";
import { instant } from "./order.ts";

/** Whether every correction in the record is there as it was entered, and every one that is there is dated soundly. */
export function judgeCorrections(audited: Audited): readonly Finding[] {
  const { input, entries } = audited;
  const entered = entries.filter(({ correction }) => correction !== null);
  const kinds = new Map(input.read.map(({ id, kind }) => [id, kind]));
  const files = [...input.corrections].map(([id, { file }]) => ({ id, file, kind: kinds.get(id) ?? null }));
  const cut = cutsIn(audited);
  return [
    ...entered.flatMap((entry) => judgeEntered(audited, { entry, cut })),
    ...judgeDates(input),
    ...notEntered(input.id, entries, files),
  ];
}

function judgeEntered(
  audited: Audited,
  { entry, cut }: { readonly entry: Entry; readonly cut: Cuts },
): readonly Finding[] {
  const { correction } = entry;
  if (correction === null) return [];
  const file = audited.input.corrections.get(correction.id);
  const place = placeOf(audited, entry);
  if (file === undefined) {
    const at = { file: `${audited.input.folder}/corrections/${correction.id}.md`, line: 1, column: 1 };
    const says = `The correction ${correction.id} is gone. See line ${place.line} of its record.`;
    const mend = "Bring the file back. A correction that was wrong is superseded by another, never taken away.";
    return [{ rule: "correction-missing", level: "blocks", at, seconds: null, says, mend, see: [place] }];
  }
  const digest = cut.entered.get(correction.id) ?? correction.digest;
  if (file.digest === digest) return [];
  if (cut.pending.has(correction.id)) return [cutNotEntered(audited.input.id, file.file, correction.id)];
  const says = `The correction ${correction.id} is not as it was entered.`;
  const mend = "Put the published note back, and supersede it by another: `afterair correct`.";
  const found = changedFile(audited, file, digest, says, entry);
  return [found.rule === "content-changed" ? { ...found, rule: "correction-edited", mend } : found];
}

function cutNotEntered(episode: string, file: string, id: string): Finding {
  const says = `The words of the correction ${id} were cut with what is withdrawn, and the record does not say so yet.`;
  const mend = `Run \`afterair publish ${episode}\`: it enters the cut.`;
  return { rule: "cut-not-entered", level: "warns", at: { file, line: 1, column: 1 }, seconds: null, says, mend };
}

/** What corrections' files are by the record, and which of them were cut since. */
interface Cuts {
  readonly entered: ReadonlyMap<string, Digest>;
  readonly pending: ReadonlySet<string>;
}

function cutsIn({ input, entries, record }: Audited): Cuts {
  const entered = digestsEntered(entries);
  const digests = new Map([...input.corrections].map(([id, { digest }]) => [id, digest]));
  const isWhole = [...entered].every(([id, digest]) => digests.get(id) === digest);
  if (isWhole || input.content === null) return { entered, pending: new Set() };
  const laid = layCorrections(input.content.episode, input.now, recordedIn(record));
  return { entered, pending: new Set(cutCorrections(record, digests, laid).map(({ id }) => id)) };
}

/** Whether corrections are dated after the programme, and not ahead. */
export function judgeDates(input: Pick<AuditInput, "content" | "read" | "now">): readonly Finding[] {
  const aired = input.content?.episode.aired;
  return input.read.flatMap((correction): readonly Finding[] => {
    const base = { level: "blocks", at: correction.place, seconds: null } as const;
    if (instant(correction.dated) > instant(input.now)) {
      const says = `This correction is dated ${correction.dated}, which is still to come.`;
      return [{ ...base, rule: "correction-in-future", says, mend: "Check its date, and this machine's clock." }];
    }
    if (aired === undefined || instant(correction.dated) >= instant(aired)) return [];
    const says = `This correction is dated before the episode went to air (${aired}).`;
    return [{ ...base, rule: "correction-before-air", says, mend: "Check its date, and `aired` in episode.md." }];
  });
}

/** Corrections of a published episode that are not yet in its record. @param corrections `kind`: null where it can't be read. */
export function notEntered(
  episode: string,
  entries: readonly Entry[],
  corrections: readonly { readonly id: string; readonly file: string; readonly kind: CorrectionKind | null }[],
): readonly Finding[] {
  const known = new Set(entries.map(({ correction }) => correction?.id));
  if (entries.length === 0) return [];
  return corrections.flatMap(({ id, file, kind }) => {
    if (known.has(id)) return [];
    const at = { file, line: 1, column: 1 };
    const says = kindDoes(kind, "takes-away")
      ? `The withdrawal ${id} is in force, and not yet entered in the record.`
      : `The correction ${id} awaits entry in the record: until then it is shown in drafts alone.`;
    const mend = `Run \`afterair publish ${episode}\`: it enters it.`;
    return [{ rule: "correction-not-entered", level: "warns" as const, at, seconds: null, says, mend }];
  });
}
