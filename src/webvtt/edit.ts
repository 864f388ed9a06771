import { addAll } from "../model/addAll.ts";
import type { CuePart } from "../model/episode.ts";
import { blocks, type Finding, type Read } from "../model/finding.ts";
import { decodeVtt, type Splice, spliceBytes, spliceText } from "./bytes.ts";
import { isLineEnd } from "./characters.ts";
import { cueText } from "./compose.ts";
import { type Retiming, retime } from "./edit-times.ts";
import { voiceSplices } from "./edit-voice.ts";
import type { Cue, VttFile } from "./file.ts";
import { lineEnd } from "./lines.ts";
import { parseVtt } from "./parse.ts";
import { finding } from "./rules.ts";

/** A change to a file. Cues are counted from 0, as in `VttFile.cues`; times are whole milliseconds. */
export type VttChange =
  /** New words in the place of the whole payload. */
  | { readonly kind: "text"; readonly cue: number; readonly parts: readonly CuePart[] }
  | { readonly kind: "times"; readonly cue: number; readonly start: number; readonly end: number }
  /** The cues from `from` to before `to` start and end `by` later, and so do the times inside them. */
  | { readonly kind: "shift"; readonly from: number; readonly to: number; readonly by: number }
  /** Who speaks: the cue, which has one voice or none; or with `was`, wherever it names that voice. */
  | { readonly kind: "voice"; readonly cue: number; readonly voice: string; readonly was?: string };

/**
 * The splices that make `changes`: nothing but the words, times and names concerned is touched. In order. Refused,
 * with findings, when a change would make a conforming file one that does not conform.
 * @throws RangeError when a change names a cue that the file does not have.
 */
export function planEdit(file: VttFile, changes: readonly VttChange[], fileName: string): Read<readonly Splice[]> {
  const splices: Splice[] = [];
  const findings: Finding[] = [];
  const retimings: Retiming[] = [];
  for (const change of changes) {
    switch (change.kind) {
      case "text":
        addAll(splices, payloadSplices(file, cueAt(file, change.cue), cueText(change.parts)));
        break;
      case "times":
        cueAt(file, change.cue);
        retimings.push(change);
        break;
      case "shift":
        if (change.from < change.to) cueAt(file, change.to - 1);
        retimings.push(change);
        break;
      case "voice": {
        const named = voiceSplices(file, cueAt(file, change.cue), change.voice, change.was ?? null, fileName);
        if (named.ok) addAll(splices, named.value);
        addAll(findings, named.findings);
      }
    }
  }
  const retimed = retime(file, retimings, fileName);
  if (retimed.ok) addAll(splices, retimed.value);
  addAll(findings, retimed.findings);
  splices.sort((a, b) => a.from - b.from || a.to - b.to);
  addAll(findings, clashes(file, splices, fileName));
  return findings.some(blocks) ? { ok: false, findings } : { ok: true, value: splices, findings };
}

/** The file with `changes` made; see `planEdit`. */
export function editVtt(file: VttFile, changes: readonly VttChange[], fileName: string): Read<VttFile> {
  const plan = planEdit(file, changes, fileName);
  return plan.ok ? { ...plan, value: parseVtt(spliceText(file.text, plan.value)) } : plan;
}

/** The bytes of a file with `changes` made; all other bytes stay, whether they are UTF-8 or not. See `planEdit`. */
export function editBytes(bytes: Uint8Array, changes: readonly VttChange[], fileName: string): Read<Uint8Array> {
  const plan = planEdit(parseVtt(decodeVtt(bytes).text), changes, fileName);
  return plan.ok ? { ...plan, value: spliceBytes(bytes, plan.value) } : plan;
}

/** The file as it was read, character for character. */
export const writeVtt = (file: VttFile): string => file.text;

function cueAt({ cues }: VttFile, n: number): Cue {
  const cue = cues[n];
  if (cue === undefined) throw new RangeError(`There is no cue ${n}: the file has ${cues.length}.`);
  return cue;
}

/** Puts `payload`, which has no blank line, in the place of the cue's; lines end as the timing line does. */
function payloadSplices({ text }: VttFile, cue: Cue, payload: string): readonly Splice[] {
  const { payload: from, to } = cue;
  const timingEnd = lineEnd(text, cue.timings);
  const end = text.slice(timingEnd, from) || "\n";
  const words = payload.replaceAll("\n", end);
  if (from < to) return [{ from, to, words }];
  if (words === "") return [];
  const before = timingEnd === from ? end : "";
  const isCut = from < text.length && !isLineEnd(text.charCodeAt(from));
  return [{ from, to, words: `${before}${words}${end}${isCut ? end : ""}` }];
}

/** Two changes of the same place can't both be made. */
function clashes(file: VttFile, splices: readonly Splice[], fileName: string): readonly Finding[] {
  return splices.flatMap(({ from }, n) => {
    const before = splices[n - 1];
    if (before === undefined || (from >= before.to && from > before.from)) return [];
    const cue = file.cues.findLast(({ from: start }) => start <= from);
    const at = { file: fileName, line: cue?.line ?? 1, column: 1 };
    const says = "Two changes are to the same place of this cue.";
    return [finding("edit-clash", at, cue?.startTime ?? null, says, "Make one of them, then the other.")];
  });
}
