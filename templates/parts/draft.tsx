import type { EpisodePage, Proposals } from "../../src/pages/types.ts";
import { countedInFigures } from "./text.ts";

/** At the head of a page that is not published: that it is not, and how much of it is still a guess. */
export function DraftNote({ draft, proposals }: Pick<EpisodePage, "draft" | "proposals">) {
  if (!draft) return null;
  return (
    <div class="draft-note" role="note">
      <p>
        <b>Draft.</b> This edition is not published: it is in no list, feed or search of the public site.
      </p>
      {proposals !== null && <p>{toConfirm(proposals)}</p>}
    </div>
  );
}

/** `3 speakers and 2 in points are proposed: confirm them before publishing.` */
function toConfirm({ speakers, points, cuts }: Proposals): string {
  const counts = [
    { count: speakers, one: "speaker" },
    { count: points, one: "in point" },
    { count: cuts, one: "cut" },
  ].filter(({ count }) => count > 0);
  const listed = counts.map(({ count, one }) => countedInFigures(count, one));
  const [last = "", ...before] = listed.toReversed();
  const all = before.length === 0 ? last : `${before.toReversed().join(", ")} and ${last}`;
  const isOne = counts.length === 1 && counts[0]?.count === 1;
  return `${all} ${isOne ? "is" : "are"} proposed: confirm ${isOne ? "it" : "them"} before publishing.`;
}

/** After what is only proposed. In words, so that it is heard too. */
export const Proposed = ({ what = "" }: { readonly what?: string }) => (
  <>
    , <span class="proposed">{what}proposed</span>
  </>
);
