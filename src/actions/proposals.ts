import { textOf } from "../build/recordFolder.ts";
import { PROPOSED_NOTE } from "../derive/captioning/transcriptText.ts";
import { formatClock } from "../model/clock.ts";
import type { Finding } from "../model/finding.ts";
import { blocking } from "../read/findings.ts";
import type { EpisodeSources } from "../read/index.ts";
import { type ProposedThing, proposalsIn } from "../read/proposals.ts";
import { decodeVtt, PROPOSED_CLASS, parseVtt, replaceCues, withoutVoiceClass } from "../webvtt/index.ts";
import { withoutProposals } from "../write/episodeText.ts";
import type { NewFile } from "../write/record.ts";

/** What becomes of the proposals in an episode that is about to be published. */
export interface ProposalOutcome {
  /** They stand in the way. */
  readonly findings: readonly Finding[];
  /** The sources as they are published: without the marks of what somebody has said is right. */
  readonly sources: EpisodeSources;
  /** The files that this changes. */
  readonly files: readonly NewFile[];
}

/** So many proposals are shown. */
export const SHOWN = 20;

/**
 * Published text is frozen, and readers take it for a fact: so somebody must have said that what is proposed is right.
 * Then the marks are taken away; else nothing is published.
 */
export function confirmProposals(sources: EpisodeSources, areRight: boolean): ProposalOutcome {
  const proposals = proposalsIn(sources);
  if (proposals.length === 0 && !tellsOfProposals(sources)) return { findings: [], sources, files: [] };
  if (proposals.length > 0 && !areRight) return { findings: unconfirmed(proposals), sources, files: [] };
  const accepted = withoutMarks(sources);
  const left = proposalsIn(accepted);
  if (left.length > 0) return { findings: unconfirmed(left), sources, files: [] };
  const files = [accepted.episode, accepted.transcript].flatMap((source): NewFile[] => {
    if (source === null || source === sources.episode || source === sources.transcript) return [];
    return [{ path: source.file.slice(sources.folder.length + 1), bytes: source.bytes }];
  });
  return { findings: [], sources: accepted, files };
}

/** Whether the transcript still says that it has proposed speakers; each may have been accepted by itself. */
const tellsOfProposals = ({ transcript }: EpisodeSources): boolean =>
  transcript !== null && textOf(transcript).includes(PROPOSED_NOTE);

/** A finding for each proposal that is shown; the last one tells how many there are besides. */
function unconfirmed(proposals: readonly ProposedThing[]): readonly Finding[] {
  const more = proposals.length - SHOWN;
  return proposals.slice(0, SHOWN).map(({ what, name, ms, at }, n) => {
    const rest = more > 0 && n === SHOWN - 1 ? ` And ${more} more.` : "";
    const says = `The ${what} ${name} at ${formatClock(ms)} is a proposal that nobody has accepted.${rest}`;
    const mend = "Check it and take its mark away; or, when all are checked, publish with --proposals-are-right.";
    return { ...blocking("proposals-unconfirmed", at, says, mend), seconds: ms / 1000 };
  });
}

function withoutMarks(sources: EpisodeSources): EpisodeSources {
  const changed = <S extends EpisodeSources["episode"]>(source: S, text: (before: string) => string): S => {
    if (source === null) return source;
    const [before, after] = [textOf(source), text(textOf(source))];
    return before === after ? source : { ...source, bytes: new Uint8Array(Buffer.from(after)) };
  };
  return {
    ...sources,
    episode: changed(sources.episode, withoutProposals),
    transcript: changed(sources.transcript, (text) => {
      const named = parseVtt(withoutVoiceClass(parseVtt(decodeVtt(Buffer.from(text)).text), PROPOSED_CLASS));
      return replaceCues(named, { out: new Set(), cues: [], notesOut: [PROPOSED_NOTE], notes: [] });
    }),
  };
}
