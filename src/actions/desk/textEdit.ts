import { blocks } from "../../model/finding.ts";
import { parseEdited } from "../../read/incoming/edited.ts";
import { decodeVtt, PROPOSED_CLASS, parseVtt, plainText, withoutVoiceClass } from "../../webvtt/index.ts";
import { retimed, type ToRetime } from "../retimed.ts";
import { wordsWouldGo } from "../retimeFindings.ts";
import type { Opened } from "./words.ts";

/** The words as people write them, a paragraph a turn: `NAME: words`; sounds in brackets on lines of their own. */
export const textOfWords = ({ cues }: Pick<Opened, "cues">): string => plainText(cues);

/**
 * The transcript with all words as they stand in a text of turns, at the times that are known. @param isSure much of what is
 * there may go.
 */
export async function withText(
  opened: Opened,
  text: string,
  isSure: boolean,
): Promise<{ readonly text: string; readonly says: string } | { readonly is: "refused"; readonly says: string }> {
  const { transcript, episode, programme } = opened;
  const voices = opened.cues.flatMap(({ pieces }) => pieces.flatMap(({ voice }) => (voice === null ? [] : [voice])));
  const known = [...new Set([...programme.names.map(({ name }) => name), ...voices])];
  const edited = parseEdited({ file: "the text", bytes: new TextEncoder().encode(text) }, known);
  const fault = edited.findings.find(blocks);
  if (fault !== undefined) return { is: "refused", says: `${fault.says} ${fault.mend}` };
  const isNamed = edited.words.some(({ voice }) => voice !== null);
  const done = await retimed({
    ...(isNamed ? withoutProposals(opened) : { bytes: transcript.bytes, cues: opened.cues }),
    episode,
    programme,
    edited,
    raw: null,
    stretch: null,
    inPoints: false,
    listening: null,
  });
  if (done === null) return { is: "refused", says: "These words have no room in the programme." };
  const would = isSure ? null : wordsWouldGo(done, false, transcript.file);
  if (would !== null) return { is: "refused", says: `${would.says} Say that it is right, and put it in again.` };
  const { errors, gone } = done;
  return {
    text: done.text,
    says: `${done.words} words are in; ${gone} of those that were there are gone, ${errors.substitutions} are others.`,
  };
}

/** A text that names speakers says who they are: none is a proposal any more, and no caption is cut anew for that alone. */
const withoutProposals = ({ transcript, cues }: Opened): Pick<ToRetime, "bytes" | "cues"> => ({
  bytes: Buffer.from(withoutVoiceClass(parseVtt(decodeVtt(transcript.bytes).text), PROPOSED_CLASS)),
  cues: cues.map((cue) => ({ ...cue, pieces: cue.pieces.map(({ proposed: _, ...piece }) => piece) })),
});
