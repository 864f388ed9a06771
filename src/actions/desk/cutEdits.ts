import { formatClockExact } from "../../model/clock.ts";
import type { DeskCutEdit } from "../../model/deskOrder.ts";
import { withCutAccepted } from "../../write/episodeText.ts";
import { withFields, withoutCut } from "../../write/segmentText.ts";
import { withSound } from "../../write/soundEdit.ts";
import type { Opened } from "./words.ts";

/** One change to what the recording lacks, in the text of episode.md; null: it is written in a way that can't be changed piece by piece. */
export function cutEdited({ episode: { cuts } }: Opened, text: string, edit: DeskCutEdit): CutEdited {
  if (edit.op === "addCut") {
    const why = edit.why.replace(/\s+/g, " ").trim();
    if (why === "") return { is: "refused", says: "Say why the recording lacks it." };
    const cut = { from: Math.round(edit.from), to: Math.round(edit.to), why };
    if (cut.to <= cut.from) return { is: "refused", says: "It would end before it begins." };
    return { is: "made", text: withSound(text, { media: new Map(), duration: null, cuts: [cut], silenced: [] }) };
  }
  if (cuts[edit.cut] === undefined) return { is: "refused", says: "There is no such cut." };
  // What somebody has changed is no proposal any more.
  const accepted = withCutAccepted(text, edit.cut);
  switch (edit.op) {
    case "cut":
      return { is: "made", text: accepted };
    case "dropCut":
      return { is: "made", text: withoutCut(accepted, edit.cut) };
    case "moveCut": {
      const [from, to] = [edit.from, edit.to].map((ms) => formatClockExact(Math.max(0, Math.round(ms))));
      return { is: "made", text: withFields(accepted, edit.cut, { from, to }, "cuts") };
    }
  }
}

export type CutEdited =
  | { readonly is: "made"; readonly text: string | null }
  | { readonly is: "refused"; readonly says: string };
