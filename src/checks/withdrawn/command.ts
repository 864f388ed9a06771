import { episodePath, segmentPath } from "../../model/address.ts";
import type { Timed } from "../../model/timeMap.ts";
import { toMedia } from "../../model/timeMap.ts";
import { clockMs } from "../../model/units.ts";
import type { SamePlace } from "./places.ts";

/** One thing that can be done about a place. */
export interface Step {
  /** `look`, `take away`, `change`, `edit`. */
  readonly verb: string;
  /** An address, a command that is ready to be copied, or a file with its line. */
  readonly what: string;
}

/** What can be done about a place, and what must be known of it. */
export interface Steps {
  readonly steps: readonly Step[];
  /** As a sentence; null where nothing needs to be said. */
  readonly caution: string | null;
}

/** Whose the place is. */
export interface Whose extends Timed {
  /** Whether its record has begun. */
  readonly published: boolean;
  /** The site's address, with a slash at its end. */
  readonly url: string;
  /** The place in the content: `content/episodes/…/transcript.vtt:417`. */
  readonly file: string;
  /** Further flags that every command needs, with a space before each; or "". */
  readonly flags: string;
}

/** The command that withdraws a segment, or the whole episode. What else is needed it asks for. */
export const withdrawalOf = (episode: string, segment: string | null, flags = ""): string =>
  `npx afterair correct ${episode} --kind withdrawal${segment === null ? "" : ` --segment ${segment}`}${flags}`;

/**
 * What can be done about a place where a withdrawn matter stands. Nothing is done by anybody but a person. The commands
 * leave out who signs and what the note says: they ask for those.
 */
export function stepsFor(place: SamePlace, whose: Whose): Steps {
  const { episode, segment, text } = place;
  if (!whose.published) {
    return { steps: [{ verb: "edit", what: whose.file }], caution: "It isn't published yet: edit it before it is." };
  }
  const look = { verb: "look", what: `${whose.url}${addressOf(place, whose)}` };
  const takeAway = { verb: "take away", what: withdrawalOf(episode, segment, whose.flags) };
  const own = segment === null ? "the whole episode" : `the whole segment ${segment}`;
  switch (text?.kind) {
    case undefined:
      return {
        steps: [look, takeAway],
        caution:
          place.whole && segment !== null
            ? null
            : `Words can't be withdrawn by themselves: this takes ${own}, and more stands there.`,
      };
    case "title":
    case "summary": {
      const about = segment === null ? "" : ` --segment ${segment}`;
      const change = `npx afterair correct ${episode} --kind page${about} --field ${text.kind}${whose.flags}`;
      return {
        steps: [look, { verb: "change", what: change }, takeAway],
        caution: `A changed ${text.kind} stays readable in its correction. Only a withdrawal takes it away, with ${own}.`,
      };
    }
    case "notes":
      return {
        steps: [
          look,
          { verb: "edit", what: whose.file },
          { verb: "publish", what: `npx afterair publish ${episode} --reissue${whose.flags}` },
          takeAway,
        ],
        caution:
          "Programme notes are frozen: edit them, and reissue the episode with --reason. The earlier text stays readable as published, " +
          "unless something of the episode is withdrawn.",
      };
    case "note":
      return {
        steps: [look, takeAway],
        caution: `A published note stays as it is. It goes only with ${own}; the note of a withdrawal stays even then.`,
      };
  }
}

/** The page of a place, and the moment where it is heard. */
function addressOf({ episode, segment, text, words }: SamePlace, timed: Timed): string {
  const page = segment === null ? episodePath(episode) : segmentPath(episode, segment);
  const [first] = words;
  const media = text !== null || first === undefined ? null : toMedia(clockMs(first.seconds * 1000), timed);
  return media === null ? page : `${page}#t=${Math.floor(media / 1000)}`;
}
