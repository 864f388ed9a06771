import { addAll } from "../model/addAll.ts";
import { formatClockExact } from "../model/clock.ts";
import type { TranscriptCue } from "../model/episode.ts";
import { blocks, type Finding, type Place, type Read } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import { type MisheardName, misheardIn } from "../model/misheardNames.ts";
import { clockMs } from "../model/units.ts";
import {
  type Cue,
  cuePieces,
  decodeVtt,
  parseVtt,
  settingsText,
  type VttFile,
  validateVtt,
  wholeMs,
} from "../webvtt/index.ts";
import { blocking, findingAt } from "./findings.ts";
import type { Source } from "./source.ts";
import { encodingFault, placesIn, unseenFindings } from "./text.ts";

/** The cues of a transcript, and what is wrong with it. */
export function parseTranscript(source: Source): Read<readonly TranscriptCue[]> {
  const { file } = source;
  const start = { file, line: 1, column: 1 };
  const encoding = encodingFault(source);
  if (encoding !== null) return { ok: false, findings: [encoding] };
  const vtt = parseVtt(decodeVtt(source.bytes).text);
  const isBlank = vtt.text.trim() === "";
  if (!vtt.accepted && !isBlank) return { ok: false, findings: [notWebvtt(start)] };
  const findings = isBlank ? [] : [...validateVtt(vtt, "captions", file)];
  findings.push(...unseenFindings({ file, text: vtt.text, place: placesIn(file, vtt.text) }));
  if (vtt.cues.length === 0) findings.push(noCues(start));
  addAll(findings, proposedVoices(vtt, file));
  if (findings.some(blocks)) return { ok: false, findings };
  const cues = vtt.cues.map((cue) => modelCue(vtt, cue, file));
  return { ok: true, value: withHeard(cues, vtt), findings };
}

/** The cues with the names that a note says are heard in them. */
function withHeard(cues: readonly TranscriptCue[], { blocks }: VttFile): readonly TranscriptCue[] {
  const heard = blocks.flatMap((block) => (block.kind === "note" ? misheardIn(block.words) : []));
  if (heard.length === 0) return cues;
  const cueOf = ({ at }: MisheardName) => cues.findLast(({ start }) => start <= at) ?? cues[0];
  const byCue = grouped(heard, cueOf);
  return cues.map((cue) => {
    const own = byCue.get(cue);
    return own === undefined ? cue : { ...cue, heard: own };
  });
}

const notWebvtt = (at: Place): Finding =>
  blocking(
    "transcript-not-webvtt",
    at,
    "This transcript is not WebVTT: its first line is not WEBVTT.",
    "Write WEBVTT in the first line and leave the second one empty, or convert the file to WebVTT.",
  );

const noCues = (at: Place): Finding =>
  blocking("transcript-empty", at, "This transcript has no cues.", "Put the transcript of the broadcast here.");

/** Voices that a program proposed and nobody has accepted, told once a file. */
function proposedVoices(vtt: VttFile, file: string): readonly Finding[] {
  const proposed = vtt.cues.filter(({ text }) => text.includes("<v.proposed"));
  const [first] = proposed;
  if (first === undefined) return [];
  const says = `The speakers of ${proposed.length} cues are proposals.`;
  const mend = "Check them and take `.proposed` away, or give the speakers with `afterair retime`.";
  const at = { file, line: first.line + 1, column: 1 };
  return [findingAt(at, "warns", "speakers-proposed", says, mend, first.startTime)];
}

function modelCue(vtt: VttFile, cue: Cue, file: string): TranscriptCue {
  return {
    id: cue.id,
    start: clockMs(wholeMs(cue.startTime)),
    end: clockMs(wholeMs(cue.endTime)),
    pieces: cuePieces(vtt, cue),
    settings: settingsText(vtt, cue),
    at: { file, line: cue.line, column: 1 },
  };
}

/** Cues that run past the end of the episode, in its own clock; `slack` in milliseconds. */
export function cuesPastEnd(cues: readonly TranscriptCue[], end: number, slack: number): Finding[] {
  return cues
    .filter((cue) => cue.end > end + slack)
    .map((cue) => {
      const says = `This cue ends at ${formatClockExact(cue.end)}, past the end of the episode at ${formatClockExact(end)}.`;
      return findingAt(
        cue.at,
        "warns",
        "cue-past-end",
        says,
        "Check its times, and `duration`, `cuts` and `clock` of the episode.",
        cue.start / 1000,
      );
    });
}
