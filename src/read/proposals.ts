import type { Place } from "../model/finding.ts";
import { parseProposal, pointText, speakerKindIn, speakerText } from "../model/proposal.ts";
import { cuePieces, decodeVtt, parseVtt, wholeMs } from "../webvtt/index.ts";
import { judgeClock } from "./fields.ts";
import { splitFront } from "./frontMatter.ts";
import { valueAt } from "./shapeFindings.ts";
import type { EpisodeSources, Source } from "./source.ts";

/** What a program proposed in an episode's files, and nobody has accepted. */
export interface ProposedThing {
  readonly what: "in point" | "cut" | "speaker";
  /** A segment's slug; why something was cut; a speaker's name. */
  readonly name: string;
  /** In milliseconds of the episode's clock. */
  readonly ms: number;
  /** How many of its kind were right, for people; null where that was never measured, or its kind is not known. */
  readonly measured: string | null;
  readonly at: Place;
}

/** All that is marked as proposed: in points and cuts in the order of episode.md, then speakers, one a turn. */
export const proposalsIn = ({ episode, transcript }: Pick<EpisodeSources, "episode" | "transcript">) => [
  ...(episode === null ? [] : inFrontMatter(episode)),
  ...(transcript === null ? [] : inTranscript(transcript, episode === null ? [] : speakingIn(episode))),
];

function inFrontMatter(source: Source): readonly ProposedThing[] {
  const front = splitFront(source);
  if (!front.ok) return [];
  const { data, placeOf, commentOf } = front.value;
  const listed = (key: "segments" | "cuts", point: readonly string[], own: string, what: ProposedThing["what"]) => {
    const list = data[key];
    return (Array.isArray(list) ? list : []).flatMap((_, n): ProposedThing[] => {
      const proposal = parseProposal(commentOf([key, n, ...point]));
      if (proposal === null) return [];
      const measured = proposal.edgeState === null || what === "cut" ? null : pointText(proposal.edgeState);
      const at = [key, n, what === "cut" ? "from" : "in"];
      const [name, clock] = [valueAt(data, [key, n, own]), judgeClock(valueAt(data, at))];
      return [{ what, name: String(name ?? ""), ms: clock.ok ? clock.value : 0, measured, at: placeOf(at) }];
    });
  };
  return [...listed("segments", ["in"], "slug", "in point"), ...listed("cuts", [], "why", "cut")];
}

/** A segment as far as it says whether others may speak in it. */
interface Speaking {
  readonly in: number;
  readonly kind: string;
}

function speakingIn(source: Source): readonly Speaking[] {
  const front = splitFront(source);
  const list = front.ok ? front.value.data.segments : [];
  return (Array.isArray(list) ? list : []).flatMap((_, n): Speaking[] => {
    const clock = judgeClock(valueAt({ list }, ["list", n, "in"]));
    return clock.ok ? [{ in: clock.value, kind: String(valueAt({ list }, ["list", n, "kind"])) }] : [];
  });
}

function inTranscript(source: Source, segments: readonly Speaking[]): readonly ProposedThing[] {
  const vtt = parseVtt(decodeVtt(source.bytes).text);
  const speakers: ProposedThing[] = [];
  let last: string | null = null;
  for (const cue of vtt.cues) {
    for (const { voice, proposed } of cuePieces(vtt, cue)) {
      const name = proposed === true ? voice : null;
      if (name !== null && name !== last) {
        const at = { file: source.file, line: cue.line + 1, column: 1 };
        const ms = wholeMs(cue.startTime);
        const own = segments.findLast(({ in: start }) => start <= ms);
        const measured = own === undefined ? null : speakerText(speakerKindIn(own.kind));
        speakers.push({ what: "speaker", name, ms, measured, at });
      }
      last = name;
    }
  }
  return speakers;
}
