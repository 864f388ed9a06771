import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskFinding } from "../../model/desk.ts";
import { bytesOf } from "./api.ts";
import { CaptionList } from "./captionList.tsx";
import type { CaretAt, RowActions } from "./captionRow.tsx";
import { useEditing } from "./editing.ts";
import { Fault, Frame } from "./frame.tsx";
import { usePlayback } from "./playback.ts";
import { Recording } from "./recording.tsx";
import { numberAt } from "./renumber.ts";
import { Strip } from "./strip.tsx";
import { Tools } from "./tools.tsx";
import { doubtsIn, turnEnd, turnStart } from "./turns.ts";

/** What the page shows at its place anyway. */
const UNSAID = new Set(["proposals-unconfirmed", "speakers-proposed"]);

/** The words of an episode, corrected by ear. */
export function Words({ id }: { readonly id: string }) {
  const editing = useEditing(id);
  const { words, findings, fault, says, lost, isSaved } = editing;
  const playback = usePlayback(words);
  const [peaks, setPeaks] = useState<Uint8Array | null>(null);
  const [caret, setCaret] = useState<CaretAt | null>(null);
  const [asked, setAsked] = useState<number | null>(null);
  const hasWords = words !== null;
  useEffect(() => {
    if (hasWords) bytesOf(`/api/peaks/${id}`).then(setPeaks, () => undefined);
  }, [id, hasWords]);
  useEffect(() => {
    const at = /^#t=(\d+(?:\.\d+)?)$/.exec(location.hash)?.[1];
    if (words === null || at === undefined) return;
    const moment = Number(at) * 1000;
    playback.seek(moment);
    const own = words.captions.findLast(({ start }) => start <= moment + 1);
    if (own !== undefined) setCaret({ caption: own.n, offset: 0 });
  }, [hasWords]);
  const byCaption = useMemo(() => groupedBy(findings), [findings]);
  // Actions are made once, so that a row that did not change is not drawn again: they look here for what is now.
  const now = useRef({ editing, playback, byCaption });
  now.current = { editing, playback, byCaption };
  const actions = useMemo(() => actionsFor(now, setCaret, setAsked), [id]);

  if (words === null) {
    return (
      <Frame title="Words" id={id} here="words">
        <Fault says={fault} />
      </Frame>
    );
  }
  const { captions, published } = words;
  return (
    <Frame title={words.title} id={id} here="words">
      <Recording words={words} playback={playback} />
      <div class="desk-deck">
        <Strip words={words} peaks={peaks} now={playback.now} onSeek={playback.seek} />
        <Tools
          words={words}
          now={playback.now}
          isPlaying={playback.isPlaying}
          isSaved={isSaved}
          doubts={doubtsIn(words, byCaption).length}
          onToggle={playback.toggle}
          onEdit={(edit) => void editing.change(edit)}
          onNextDoubt={() =>
            actions.toDoubt(
              document.activeElement?.closest(".desk-caption") === null ? -1 : captionOf(document.activeElement),
              1,
            )
          }
          onGo={(caption, offset) => setCaret({ caption, offset })}
        />
        <Fault says={fault ?? playback.fault} />
        <p role="status" class="desk-doing">
          {says ?? ""}
        </p>
        {lost.map((own) => {
          const there = captions[numberAt(captions, own.start)]?.text;
          return (
            <div key={own.start} class="desk-mine" role="alert">
              <p>
                You typed “{own.text}” at {formatClock(own.start)}.{" "}
                {there === undefined ? "No caption begins there any more." : `There it says now “${there}”.`}
              </p>
              {there !== undefined && (
                <button type="button" onClick={() => editing.putLost(own)}>
                  Put mine in
                </button>
              )}
              <button type="button" onClick={() => editing.dropLost(own)}>
                Leave it as it is
              </button>
            </div>
          );
        })}
        {published && (
          <p class="desk-note">This transcript is published: it is shown, and corrected by dated corrections.</p>
        )}
      </div>
      <CaptionList
        words={words}
        byCaption={byCaption}
        playback={playback}
        caret={caret}
        lost={lost}
        asked={asked}
        onAnswered={() => {
          setAsked(null);
          const n = numberAt(captions, asked ?? -1);
          if (n !== -1) setCaret({ caption: captions[n]?.n ?? n, offset: 0 });
        }}
        actions={actions}
        onEdit={(edit) => void editing.change(edit)}
      />
    </Frame>
  );
}

const captionOf = (element: Element | null): number => Number(element?.closest(".desk-caption")?.id.slice(1) ?? -1);

function groupedBy(findings: readonly DeskFinding[]): ReadonlyMap<number, readonly DeskFinding[]> {
  const by = new Map<number, DeskFinding[]>();
  for (const finding of findings) {
    const { caption } = finding;
    if (caption === null || UNSAID.has(finding.rule)) continue;
    by.set(caption, [...(by.get(caption) ?? []), finding]);
  }
  return by;
}

interface Now {
  readonly current: {
    readonly editing: ReturnType<typeof useEditing>;
    readonly playback: ReturnType<typeof usePlayback>;
    readonly byCaption: ReadonlyMap<number, readonly DeskFinding[]>;
  };
}

function actionsFor(now: Now, setCaret: (at: CaretAt | null) => void, setAsked: (start: number) => void): RowActions {
  const captions = () => now.current.editing.words?.captions ?? [];
  const change: Now["current"]["editing"]["change"] = (edit) => now.current.editing.change(edit);
  /** What is typed while captions are being parted or joined; null: they are not. */
  let held: string | null = null;
  const moved = async (edit: DeskEdit, to: CaretAt) => {
    held = "";
    const isMade = await change(edit);
    const typed = held;
    held = null;
    if (isMade) setCaret({ ...to, typed });
    else if (typed !== "") document.execCommand("insertText", false, typed);
  };
  return {
    type: (...typed) => now.current.editing.type(...typed),
    placed: () => setCaret(null),
    isTyping: (start) => now.current.editing.isTyping(start),
    leave: () => now.current.editing.leave(),
    holds: (key) => {
      if (held === null) return false;
      // While the server is away nothing is kept that nobody sees.
      if (now.current.editing.fault === null && [...key].length === 1) held += key;
      return true;
    },
    split: (caption, word) => void moved({ op: "split", caption, word }, { caption: caption + 1, offset: 0 }),
    joinBefore: (caption) => {
      const offset = (captions()[caption - 1]?.text.length ?? 0) + 1;
      void moved({ op: "join", caption: caption - 1 }, { caption: caption - 1, offset });
    },
    playFrom: (at) => now.current.playback.playFrom(at),
    toggle: () => now.current.playback.toggle(),
    toDoubt: (caption, by) => {
      const { words } = now.current.editing;
      const all = words === null ? [] : doubtsIn(words, now.current.byCaption);
      const next = by === 1 ? all.find((n) => n > caption) : all.findLast((n) => n < caption);
      if (next === undefined) return false;
      setCaret({ caption: next, offset: 0 });
      return true;
    },
    toNext: (caption, by) => {
      const all = captions();
      const next = all[all.findIndex(({ n }) => n === caption) + by];
      if (next !== undefined) setCaret({ caption: next.n, offset: by === 1 ? 0 : next.text.length });
    },
    toSpeakers: setAsked,
    speaker: (caption, number) => {
      const voice = now.current.editing.words?.speakers[number - 1];
      if (voice !== undefined) void change({ op: "voice", from: caption, to: turnEnd(captions(), caption), voice });
    },
    accept: (caption) => {
      const from = turnStart(captions(), caption);
      void change({ op: "accept", from, to: turnEnd(captions(), from) });
    },
    takeMend: (caption, { was, now: to }) => {
      const text = captions().find(({ n }) => n === caption)?.text;
      if (text === undefined) return;
      // The button goes with the doubt: the caret stays in the caption.
      const caret = { caption, offset: text.indexOf(was) + to.length };
      void moved({ op: "words", caption, text: text.replace(was, () => to), isWhole: true }, caret);
    },
    undo: () => void change({ op: "undo" }),
    redo: () => void change({ op: "redo" }),
  };
}
