import { memo } from "preact/compat";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskCaption, DeskFinding } from "../../model/desk.ts";

/** Where the caret is to be put when captions have changed. */
export interface CaretAt {
  readonly caption: number;
  readonly offset: number;
  /** What was typed before it could be put there. */
  readonly typed?: string;
}

export interface RowActions {
  /** @param start when the caption begins. */
  type(start: number, was: string, text: string): void;
  /** Whether something typed there waits to be sent. */
  isTyping(start: number): boolean;
  /** Keeps a letter for where the caret is going, while captions are being parted or joined; false: they are not. */
  holds(key: string): boolean;
  leave(): void;
  /** The caret is where it was to be put. */
  placed(): void;
  split(caption: number, word: number): void;
  joinBefore(caption: number): void;
  playFrom(at: number): void;
  toggle(): void;
  /** To the next doubt after a caption, or the one before it; false where there is none. */
  toDoubt(caption: number, by: 1 | -1): boolean;
  /** To the caption after this one, or the one before it. */
  toNext(caption: number, by: 1 | -1): void;
  /** To a list of those who may speak from a caption on. @param start when it begins. */
  toSpeakers(start: number): void;
  /** Who speaks, from here to the end of the turn: the speaker of this number. */
  speaker(caption: number, number: number): void;
  accept(caption: number): void;
  /** Writes what a doubt says in the place of the words that it is about. */
  takeMend(caption: number, change: Change): void;
  undo(): void;
  redo(): void;
}

type Change = NonNullable<DeskFinding["change"]>;

/** What a doubt would write, as long as the words that it is about stand in the caption. */
const changeIn = ({ text }: DeskCaption, { change }: DeskFinding): Change | null =>
  change !== null && text.includes(change.was) ? change : null;

interface RowProps {
  readonly caption: DeskCaption;
  readonly findings: readonly DeskFinding[];
  readonly fastest: number;
  readonly isLocked: boolean;
  /** Which of its words is being said; -1: none. */
  readonly said: number;
  /** The caret is to be put here, once. */
  readonly caret: CaretAt | null;
  readonly actions: RowActions;
}

/** A caption: its moment, its words to be typed in, how fast they are read, and what is doubtful about it. */
export const CaptionRow = memo(({ caption, findings, fastest, isLocked, said, caret, actions }: RowProps) => {
  const { n, start, end, text, isSound, isMixed } = caption;
  const field = useRef<HTMLDivElement | null>(null);
  const isDrawn = useRef(false);
  // Before the next key comes: it is meant for where the caret goes.
  useLayoutEffect(() => {
    const own = field.current;
    if (own === null) return;
    // What somebody is typing is not taken from under them, and a blank at its end is theirs too.
    const shown = (own.textContent ?? "").replace(/\s+/g, " ").trim();
    if (shown !== text && !(isDrawn.current && actions.isTyping(start))) {
      const at = document.activeElement === own ? caretIn(own) : null;
      own.textContent = text;
      if (at !== null) putCaret(own, at);
    }
    isDrawn.current = true;
  }, [text, isLocked]);
  useLayoutEffect(() => {
    if (caret === null || field.current === null) return;
    putCaret(field.current, caret.offset);
    if (caret.typed !== undefined && caret.typed !== "") document.execCommand("insertText", false, caret.typed);
    actions.placed();
  }, [caret]);
  useEffect(() => markSaid(field.current, said), [said]);
  const rate = Math.round((caption.words.length * 60_000) / Math.max(1, end - start));
  const isEditable = !isLocked && !isMixed;
  return (
    <div class="desk-caption" id={`c${n}`} data-said={said >= 0 ? "" : undefined}>
      <button type="button" class="desk-at" onClick={() => actions.playFrom(start)}>
        <span class="vh">Play from </span>
        {formatClock(start)}
      </button>
      {/* biome-ignore lint/a11y/useSemanticElements: words are played and marked inside it, which no text field allows */}
      <div
        ref={field}
        class={`desk-text${isSound ? " is-sound" : ""}`}
        role="textbox"
        tabIndex={0}
        aria-label={`Caption at ${formatClock(start)}`}
        aria-readonly={!isEditable}
        aria-describedby={findings.length > 0 ? `f${n}` : undefined}
        contentEditable={isEditable}
        spellcheck={isEditable}
        onInput={(event) => actions.type(start, text, event.currentTarget.textContent ?? "")}
        onBlur={() => actions.leave()}
        onClick={(event) => {
          if (event.altKey) actions.playFrom(momentOf(caption, caretIn(event.currentTarget)));
        }}
        onKeyDown={(event) => onKey(event, caption, findings, isEditable, actions)}
        onPaste={(event) => {
          // Plain words alone: a caption has no markup.
          event.preventDefault();
          const words = event.clipboardData?.getData("text/plain").replace(/\s+/g, " ") ?? "";
          document.execCommand("insertText", false, words);
        }}
      />
      <span class={`desk-rate${rate > fastest ? " is-fast" : ""}`}>
        {isSound ? "" : rate}
        {!isSound && <span class="vh">{` words a minute${rate > fastest ? ", too fast to read" : ""}`}</span>}
      </span>
      {findings.length > 0 && (
        <ul class="desk-doubts" id={`f${n}`}>
          {findings.map((finding) => {
            const change = isEditable ? changeIn(caption, finding) : null;
            return (
              <li key={finding.rule + finding.says}>
                {finding.says} <span>{finding.mend}</span>
                {change !== null && (
                  <button type="button" class="desk-small" onClick={() => actions.takeMend(n, change)}>
                    Write {change.now}
                  </button>
                )}
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
});

function onKey(
  event: KeyboardEvent,
  caption: DeskCaption,
  findings: readonly DeskFinding[],
  isEditable: boolean,
  actions: RowActions,
): void {
  if (!event.ctrlKey && !event.metaKey && !event.altKey && actions.holds(event.key)) {
    event.preventDefault();
    return;
  }
  if (event.key === "Tab" && !event.ctrlKey && !event.metaKey && !event.altKey) {
    if (actions.toDoubt(caption.n, event.shiftKey ? -1 : 1)) event.preventDefault();
    return;
  }
  const act = playing(event, caption, actions) ?? (isEditable ? writing(event, caption, findings, actions) : null);
  if (act === null) return;
  event.preventDefault();
  act();
}

/** What a key does also where nothing can be written. */
function playing(event: KeyboardEvent, caption: DeskCaption, actions: RowActions): (() => void) | null {
  const field = event.currentTarget as HTMLElement;
  if ((event.ctrlKey || event.metaKey) && event.code === "Space") return actions.toggle;
  if (event.altKey && event.key === "Enter") return () => actions.playFrom(momentOf(caption, caretIn(field)));
  const by = ({ ArrowUp: -1, ArrowDown: 1 } as const)[event.key];
  if (by !== undefined && !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey)
    return isAtEdge(field, by) ? () => actions.toNext(caption.n, by) : null;
  return event.key === "Escape" ? () => document.querySelector<HTMLElement>(".desk-tools button")?.focus() : null;
}

function writing(
  event: KeyboardEvent,
  caption: DeskCaption,
  findings: readonly DeskFinding[],
  actions: RowActions,
): (() => void) | null {
  const { n, start } = caption;
  const field = event.currentTarget as HTMLElement;
  const text = field.textContent ?? "";
  const key = event.key.toLowerCase();
  if (event.ctrlKey || event.metaKey) {
    if (key === "y" || (event.shiftKey && key === "z")) return actions.redo;
    return key === "z" ? actions.undo : null;
  }
  if (event.altKey) {
    if (event.code === "Digit0") return () => actions.toSpeakers(start);
    if (/^Digit[1-9]$/.test(event.code)) return () => actions.speaker(n, Number(event.code.slice(5)));
    if (event.code === "KeyW") {
      const change = findings.map((finding) => changeIn(caption, finding)).find((own) => own !== null);
      return change === undefined || change === null ? null : () => actions.takeMend(n, change);
    }
    return event.code === "KeyY" ? () => actions.accept(n) : null;
  }
  if (event.key === "Enter") return () => actions.split(n, wordAt(text, caretIn(field)));
  const isAtStart = caretIn(field) === 0 && document.getSelection()?.isCollapsed === true;
  return event.key === "Backspace" && isAtStart && n > 0 ? () => actions.joinBefore(n) : null;
}

/** How many letters stand before the caret. */
function caretIn(field: HTMLElement): number {
  const selection = document.getSelection();
  if (selection === null || selection.rangeCount === 0) return 0;
  const range = selection.getRangeAt(0);
  if (!field.contains(range.startContainer)) return 0;
  const before = document.createRange();
  before.setStart(field, 0);
  before.setEnd(range.startContainer, range.startOffset);
  return before.toString().length;
}

/** Whether the caret stands in the first line of what is shown, or in the last. */
function isAtEdge(field: HTMLElement, by: number): boolean {
  const [range, all] = [document.getSelection()?.getRangeAt(0), document.createRange()];
  all.selectNodeContents(field);
  const [own, lines] = [range?.getClientRects()[0], all.getClientRects()];
  const edge = lines[by === 1 ? lines.length - 1 : 0];
  return own === undefined || edge === undefined || (by === 1 ? own.bottom > edge.top : own.top < edge.bottom);
}

function putCaret(field: HTMLElement, offset: number): void {
  field.focus({ preventScroll: true });
  field.closest(".desk-caption")?.scrollIntoView({ block: "nearest", behavior: "instant" });
  const [node] = field.childNodes;
  document
    .getSelection()
    ?.collapse(node ?? field, node === undefined ? 0 : Math.min(offset, node.textContent?.length ?? 0));
}

/** The number of the word that a caret stands before, or in. */
export const wordAt = (text: string, caret: number): number => {
  const before = text.slice(0, caret);
  const whole = before.split(/\s+/).filter((word) => word !== "").length;
  return /\S$/.test(before) && /^\S/.test(text.slice(caret)) ? whole - 1 : whole;
};

function momentOf({ start, words, text }: DeskCaption, caret: number): number {
  const at = wordAt(text, caret);
  return words[Math.min(at, words.length - 1)]?.start ?? start;
}

/** Marks the word that is being said, without touching what stands there. */
function markSaid(field: HTMLElement | null, said: number): void {
  const [node] = field?.childNodes ?? [];
  if (said < 0 || node === undefined || node.nodeType !== Node.TEXT_NODE || !("highlights" in CSS)) return;
  const words = [...(node.textContent ?? "").matchAll(/\S+/g)];
  const word = words[said];
  if (word === undefined) return;
  const range = document.createRange();
  range.setStart(node, word.index);
  range.setEnd(node, word.index + word[0].length);
  CSS.highlights.set("said", new Highlight(range));
}
