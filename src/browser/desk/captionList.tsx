import type { ComponentChildren } from "preact";
import { useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { DeskCaption, DeskEdit, DeskFinding, DeskSegment, DeskWords } from "../../model/desk.ts";
import { CaptionRow, type CaretAt, type RowActions } from "./captionRow.tsx";
import type { Playback } from "./playback.ts";
import { SegmentHead } from "./segmentHead.tsx";
import { TurnHead } from "./turnHead.tsx";
import { isTurnStart, turnEnd } from "./turns.ts";
import { useWindowed } from "./windowed.ts";

interface CaptionListProps {
  readonly words: DeskWords;
  readonly byCaption: ReadonlyMap<number, readonly DeskFinding[]>;
  readonly playback: Playback;
  readonly caret: CaretAt | null;
  /** What somebody typed over words that are others by now: nothing is typed there until they say what becomes of it. */
  readonly lost: readonly Pick<DeskCaption, "start">[];
  /** When the caption begins whose speaker somebody wants to name; null: none. */
  readonly asked: number | null;
  readonly onAnswered: () => void;
  readonly actions: RowActions;
  readonly onEdit: (edit: DeskEdit) => void;
}

const NONE: readonly DeskFinding[] = [];
/** How tall things are at the usual size of letters, until they are on the page and known: pixels. */
const [CAPTION, TURN, SEGMENT, FINDING] = [34, 60, 140, 30] as const;

/** The captions, with the segments and turns that begin with them. Only those near what is seen are on the page. */
export function CaptionList({
  words,
  byCaption,
  playback,
  caret,
  lost,
  asked,
  onAnswered,
  actions,
  onEdit,
}: CaptionListProps) {
  const { captions, segments, speakers, fastest, published } = words;
  const list = useRef<HTMLOListElement | null>(null);
  const [focused, setFocused] = useState<string | null>(null);
  const segmentsAt = useMemo(() => segmentsByRow(words), [captions, segments]);
  const listed = useMemo(
    () =>
      captions.map(({ n, start }, k) => {
        const heads = (segmentsAt.get(k)?.length ?? 0) * SEGMENT + (isTurnStart(captions, k) ? TURN : 0);
        const height = CAPTION + heads + (byCaption.get(n)?.length ?? 0) * FINDING;
        // A caption stays the same one, and keeps the caret, when its number is another.
        return { key: start === captions[k - 1]?.start ? `${start} ${k}` : `${start}`, height };
      }),
    [captions, segmentsAt, byCaption],
  );
  const target = caret === null ? -1 : captions.findIndex(({ n }) => n === caret.caption);
  const { rows, after, watch } = useWindowed(list, listed, [listed.findIndex(({ key }) => key === focused), target]);
  const saidIn = captions.findLast(({ start }) => start <= playback.now);
  const isIn = saidIn !== undefined && playback.now < saidIn.end && playback.isPlaying;
  const said = isIn ? saidIn.words.findLastIndex(({ start }) => start <= playback.now) : -1;
  return (
    <ol
      ref={list}
      class="desk-captions"
      aria-label="Captions"
      onFocusIn={({ target: own }) => {
        const row = own instanceof Element ? own.closest<HTMLElement>("[data-row]") : null;
        if (row !== null) setFocused(row.dataset.key ?? null);
      }}
    >
      {rows.map(({ k, before }) => {
        const caption = captions[k];
        return caption === undefined ? null : (
          <Row
            key={listed[k]?.key}
            name={listed[k]?.key ?? ""}
            k={k}
            of={captions.length}
            before={before}
            after={k === rows.at(-1)?.k ? after : 0}
            watch={watch}
          >
            {segmentsAt.get(k)?.map(({ slug, title, in: start, proposed }) => (
              <SegmentHead
                key={slug}
                slug={slug}
                title={title}
                at={start}
                isProposed={proposed}
                isFirst={segments[0]?.slug === slug}
                isLocked={published}
                now={playback}
                onEdit={onEdit}
              />
            ))}
            {(isTurnStart(captions, k) || asked === caption.start) && (
              <TurnHead
                caption={caption}
                to={turnEnd(captions, k)}
                speakers={speakers}
                isLocked={published}
                isAsked={asked === caption.start}
                onEdit={onEdit}
                onAnswered={onAnswered}
              />
            )}
            <CaptionRow
              caption={caption}
              findings={byCaption.get(caption.n) ?? NONE}
              fastest={fastest}
              isLocked={published || lost.some(({ start }) => start === caption.start)}
              said={saidIn === caption ? said : -1}
              caret={caret?.caption === caption.n ? caret : null}
              actions={actions}
            />
          </Row>
        );
      })}
    </ol>
  );
}

interface RowProps {
  /** The same for as long as it is the same caption. */
  readonly name: string;
  readonly k: number;
  /** How many rows there are. */
  readonly of: number;
  /** Room for the rows that are not on the page, in pixels. */
  readonly before: number;
  readonly after: number;
  readonly watch: (element: Element) => () => void;
  readonly children: ComponentChildren;
}

/** One of the captions, wherever it is among all of them: those that are not on the page count too. */
function Row({ name, k, of, before, after, watch, children }: RowProps) {
  const own = useRef<HTMLLIElement | null>(null);
  useLayoutEffect(() => (own.current === null ? undefined : watch(own.current)), []);
  return (
    <li
      ref={own}
      data-row={k}
      data-key={name}
      aria-posinset={k + 1}
      aria-setsize={of}
      style={{ marginBlockStart: `${before}px`, marginBlockEnd: `${after}px` }}
    >
      {children}
    </li>
  );
}

/** The segments that begin with a caption, by its place: all that begin after the one before it. */
function segmentsByRow({
  captions,
  segments,
}: Pick<DeskWords, "captions" | "segments">): ReadonlyMap<number, readonly DeskSegment[]> {
  const by = new Map<number, DeskSegment[]>();
  for (const segment of segments) {
    const k = captions.findIndex(({ start }) => segment.in <= start);
    if (k !== -1) by.set(k, [...(by.get(k) ?? []), segment]);
  }
  return by;
}
