import type { Finding } from "../model/finding.ts";
import { type Audited, type AuditInput, placeOf } from "./audited.ts";
import type { Entry } from "./entry.ts";
import { changedFile } from "./judgeContent.ts";
import { instant } from "./order.ts";

/** Whether every correction in the record is there as it was entered, and every one that is there is dated soundly. */
export function judgeCorrections(audited: Audited): readonly Finding[] {
  const { input, entries } = audited;
  const entered = entries.filter(({ correction }) => correction !== null);
  const files = [...input.corrections].map(([id, { file }]) => ({ id, file }));
  return [
    ...entered.flatMap((entry) => judgeEntered(audited, entry)),
    ...judgeDates(input),
    ...notEntered(input.id, entries, files),
  ];
}

function judgeEntered(audited: Audited, entry: Entry): readonly Finding[] {
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
  if (file.digest === correction.digest || mayBeCut(entry, audited.last)) return [];
  const says = `The correction ${correction.id} is not as it was entered.`;
  const mend = "Put the published note back, and supersede it by another: `afterair correct`.";
  return [{ ...changedFile(audited, file, correction.digest, says, entry), rule: "correction-edited", mend }];
}

/** A correction that speaks only of what is withdrawn may have its words cut too; a withdrawal's own note may not. */
function mayBeCut({ what, correction }: Entry, { withdrawn }: Entry): boolean {
  if (what === "withdrawn" || correction === null) return false;
  if (withdrawn.some(({ segment }) => segment === null)) return true;
  const slugs = new Set(withdrawn.map(({ segment }) => segment));
  return correction.segments.length > 0 && correction.segments.every((slug) => slugs.has(slug));
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

/** Corrections of a published episode that are shown and not yet in its record. `corrections`: id and file of each. */
export function notEntered(
  episode: string,
  entries: readonly Entry[],
  corrections: readonly { readonly id: string; readonly file: string }[],
): readonly Finding[] {
  const known = new Set(entries.map(({ correction }) => correction?.id));
  if (entries.length === 0) return [];
  return corrections.flatMap(({ id, file }) => {
    if (known.has(id)) return [];
    const at = { file, line: 1, column: 1 };
    const says = `The correction ${id} is shown, and not yet entered in the record.`;
    const mend = `Run \`afterair publish ${episode}\`.`;
    return [{ rule: "correction-not-entered", level: "warns" as const, at, seconds: null, says, mend }];
  });
}
