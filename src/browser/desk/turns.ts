import type { DeskCaption, DeskFinding, DeskWords } from "../../model/desk.ts";

/** Whether somebody begins to speak with a caption, or begins to be only proposed. */
export const isTurnStart = (captions: readonly DeskCaption[], k: number): boolean => {
  const [before, own] = [captions[k - 1], captions[k]];
  if (own === undefined || own.isSound) return false;
  return before === undefined || before.isSound || before.voice !== own.voice || before.proposed !== own.proposed;
};

/** Where the turn ends that a caption belongs to: the number after its last caption. */
export function turnEnd(captions: readonly DeskCaption[], k: number): number {
  let to = k + 1;
  while (to < captions.length && !captions[to]?.isSound && !isTurnStart(captions, to)) to++;
  return to;
}

/** The caption with which the turn begins that a caption belongs to. */
export function turnStart(captions: readonly DeskCaption[], k: number): number {
  let from = k;
  while (from > 0 && !isTurnStart(captions, from)) from--;
  return from;
}

/** The captions that wait for somebody: where a proposed turn begins, and what a check has found. */
export const doubtsIn = (
  { captions }: DeskWords,
  byCaption: ReadonlyMap<number, readonly DeskFinding[]>,
): readonly number[] =>
  captions.flatMap(({ n, proposed }, k) => ((proposed && isTurnStart(captions, k)) || byCaption.has(n) ? [n] : []));
