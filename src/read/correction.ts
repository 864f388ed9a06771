import type { z } from "zod";
import { readCorrectionId } from "../model/correctionId.ts";
import { CORRECTION_KINDS, type CorrectionKind, correctionKind, does, kindDoes } from "../model/correctionKinds.ts";
import type { Correction } from "../model/episode.ts";
import { blocks, type Finding, type Read } from "../model/finding.ts";
import { clockMs, unreachable } from "../model/units.ts";
import { isDay, setInZone } from "./dates.ts";
import { judgeClock, judgeMoment } from "./fields.ts";
import { blocking } from "./findings.ts";
import { type Front, splitFront } from "./frontMatter.ts";
import { listed } from "./nearest.ts";
import { putInShape, type Shaped } from "./shapeFindings.ts";
import { AnyCorrectionShape, CORRECTION_SHAPES, type CorrectionShape } from "./shapes.ts";
import { baseName, type Source, stem } from "./source.ts";

type ShapedCorrection = z.output<typeof CorrectionShape>;

/** A correction with where its values stand, for whoever compares it with its episode. */
export interface PlacedCorrection {
  readonly correction: Correction;
  readonly front: Front;
}

/** One dated correction. `zone`: the programme's, for times without an offset. */
export function parseCorrection(source: Source, zone: string): Read<PlacedCorrection> {
  const split = splitFront(source);
  const named = nameFindings(source.file);
  if (!split.ok) return { ok: false, findings: [...named, ...split.findings] };
  const front = split.value;
  const kind = CORRECTION_KINDS.find((known) => known === front.data.kind);
  const shaped = shapeOf(kind, front);
  const dated = datedOf(front, zone);
  const findings = [
    ...named,
    ...split.findings,
    ...shaped.findings.map((found) => (kind === undefined ? found : disagreement(found, kind, front))),
    ...(kindDoes(kind ?? null, "replaces-field") ? pageFindings(front) : []),
    ...(kindDoes(kind ?? null, "replaces-words") ? saidFindings(front) : []),
    ...everyFindings(front),
    ...noteFindings(front),
    ...dated.findings,
    ...nameDisagrees(front, dated.value),
  ];
  if (shaped.value === null || dated.value === null || findings.some(blocks)) return { ok: false, findings };
  const base = { id: stem(source.file), dated: dated.value, note: front.body, place: front.placeOf(["kind"]) };
  return { ok: true, value: { correction: correctionOf(shaped.value, base), front }, findings };
}

function shapeOf(kind: CorrectionKind | undefined, front: Front): Shaped<ShapedCorrection> {
  if (kind === undefined) return { value: null, findings: putInShape(AnyCorrectionShape, front).findings };
  return putInShape<ShapedCorrection>(CORRECTION_SHAPES[kind], front);
}

function correctionOf(shaped: ShapedCorrection, own: Pick<Correction, "id" | "dated" | "note" | "place">): Correction {
  const at = "at" in shaped && shaped.at !== undefined ? clockMs(shaped.at) : null;
  const { signed, segment = null, supersedes = null } = shaped;
  const base = { ...own, segment, at, signed, supersedes };
  if (does(shaped, "adds-note"))
    return { ...base, kind: shaped.kind, said: shaped.said ?? null, every: shaped.every ?? false };
  if (does(shaped, "replaces-words")) {
    const { kind, said, now, every = false, field } = shaped;
    return { ...base, kind, said, now, every, ...(field === undefined ? {} : { field }) };
  }
  if (does(shaped, "replaces-field"))
    return { ...base, kind: shaped.kind, field: shaped.field, said: shaped.said, now: shaped.now };
  return does(shaped, "takes-away") ? { ...base, kind: shaped.kind } : unreachable(shaped);
}

function nameFindings(file: string): Finding[] {
  const day = readCorrectionId(stem(file))?.day;
  if (day !== undefined && isDay(day)) return [];
  const says = `${baseName(file)} is no name for a correction.`;
  return [
    blocking(
      "correction-name",
      { file, line: 1, column: 1 },
      says,
      "Name it by its date and a number: 2026-10-06-1.md. `afterair correct` gives names that no two people share.",
    ),
  ];
}

/** A key that other kinds of correction know is a disagreement, not a slip of the pen. */
function disagreement(found: Finding, kind: CorrectionKind, front: Front): Finding {
  if (found.rule !== "key-unknown") return found;
  const key = Object.keys(front.data).find((written) => samePlace(front.keyPlaceOf([written]), found));
  if (key === undefined || !Object.hasOwn(AnyCorrectionShape.shape, key)) return found;
  const others = CORRECTION_KINDS.filter((other) => Object.hasOwn(CORRECTION_SHAPES[other].shape, key));
  const says = `\`${key}\` and the kind \`${kind}\` disagree: ${correctionKind(kind).whyNot}`;
  return {
    ...found,
    rule: "correction-kind-disagrees",
    says,
    mend: `Take \`${key}\` out, or make the kind ${listed(others)}.`,
  };
}

const samePlace = (place: Finding["at"], { at }: Finding): boolean =>
  place.line === at.line && place.column === at.column;

/** What the field that a page correction changes asks of its other keys. */
function pageFindings(front: Front): Finding[] {
  const { field, segment, now } = front.data;
  const findings: Finding[] = [];
  if ((field === "by" || field === "in" || field === "out") && segment === undefined) {
    findings.push(
      blocking(
        "correction-segment-missing",
        front.placeOf(["field"]),
        `Only segments have \`${field}\`, and no segment is named.`,
        "Add `segment:` with its slug.",
      ),
    );
  }
  for (const key of field === "in" || field === "out" ? ["said", "now"] : []) {
    const written = front.data[key];
    const judged = written === undefined || written === "" ? null : judgeClock(written);
    if (judged !== null && !judged.ok)
      findings.push(
        blocking(judged.fault.rule, front.placeOf([key]), `\`${key}\` ${judged.fault.says}.`, judged.fault.mend),
      );
  }
  if (now === "" && field !== "by" && field !== "summary") {
    findings.push(
      blocking(
        "value-empty",
        front.placeOf(["now"]),
        `\`now\` is empty, and \`${String(field)}\` can't be.`,
        "Write what it becomes.",
      ),
    );
  }
  return findings;
}

/** Words can only be looked for where there are some; a speaker may be nobody. */
function saidFindings(front: Front): Finding[] {
  const { said, field } = front.data;
  if (said !== "" || field === "speaker") return [];
  return [
    blocking(
      "value-empty",
      front.placeOf(["said"]),
      "`said` is empty.",
      "Write the exact published words, or add `field: speaker` if a name was missing.",
    ),
  ];
}

function everyFindings(front: Front): Finding[] {
  if (front.data.every !== true || front.data.said !== undefined) return [];
  return [
    blocking(
      "correction-every-of-nothing",
      front.keyPlaceOf(["every"]),
      "`every` is given, but not the words.",
      "Add `said:` with the words, or take `every` out.",
    ),
  ];
}

function noteFindings({ body, bodyAt }: Front): Finding[] {
  if (body.trim() !== "") return [];
  return [
    blocking("note-missing", bodyAt, "The note that the public reads is missing.", "Write it below the front matter."),
  ];
}

function datedOf(front: Front, zone: string): { value: string | null; findings: Finding[] } {
  const judged = judgeMoment(front.data.dated);
  if (!judged.ok) return { value: null, findings: [] };
  const set = setInZone(judged.value, zone);
  if (set.ok) return { value: set.value, findings: [] };
  return {
    value: null,
    findings: [blocking(set.wrong.rule, front.placeOf(["dated"]), set.wrong.says, set.wrong.mend)],
  };
}

/** The day in the file's name is the day of `dated`, in the programme's zone. */
function nameDisagrees(front: Front, dated: string | null): Finding[] {
  const day = readCorrectionId(stem(front.file))?.day;
  if (dated === null || day === undefined || dated.startsWith(day)) return [];
  const says = `The file is named for ${day}, but dated ${dated.slice(0, 10)} in the programme's zone.`;
  return [
    blocking(
      "correction-date-unlike-name",
      front.placeOf(["dated"]),
      says,
      "Rename the file, or write the date that is meant.",
    ),
  ];
}
