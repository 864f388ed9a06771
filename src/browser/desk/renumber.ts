import type { DeskCaption, DeskEdit } from "../../model/desk.ts";

type Captions = readonly Pick<DeskCaption, "start">[];

/** The number of the caption that begins at a moment, in milliseconds; -1: none does. */
export const numberAt = (captions: Captions, start: number): number => captions.findIndex((own) => own.start === start);

/**
 * A change as it is to be made now: somebody made it when captions had other numbers, because an earlier change was still on its
 * way. A caption is told by the moment when it begins, which no change to another one moves. @returns null where a caption that
 * it is about is no more.
 */
export function renumbered(edit: DeskEdit, seen: Captions, now: Captions): DeskEdit | null {
  if (seen === now) return edit;
  const numberOf = (n: number): number => numberAt(now, seen[n]?.start ?? -1);
  if ("caption" in edit) {
    const caption = numberOf(edit.caption);
    return caption === -1 ? null : { ...edit, caption };
  }
  if (edit.op !== "voice" && edit.op !== "accept") return edit;
  const [from, last] = [numberOf(edit.from), numberOf(edit.to - 1)];
  return from === -1 || last < from ? null : { ...edit, from, to: last + 1 };
}
