import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskWords } from "../../model/desk.ts";
import { wholeWords } from "../../model/wholeWords.ts";

interface FindProps {
  readonly words: DeskWords;
  readonly onEdit: (edit: DeskEdit) => void;
  /** To a character of a caption. */
  readonly onGo: (caption: number, offset: number) => void;
}

/** The captions that have words in them, with where in each these stand first. @param pattern null: none are looked for. */
const placesOf = ({ captions }: DeskWords, pattern: RegExp | null) =>
  captions.flatMap(({ n, start, text, isSound }) => {
    const offset = isSound || pattern === null ? -1 : text.search(pattern);
    return offset === -1 ? [] : [{ n, start, text, offset }];
  });

/** So many places are shown at once. */
const SHOWN = 8;

/** Finds whole words in all captions, goes from one place to the next, and puts others in their place. */
export function Find({ words, onEdit, onGo }: FindProps) {
  const [find, setFind] = useState("");
  const [by, setBy] = useState("");
  /** The place that was gone to last; -1: none. */
  const [last, setLast] = useState(-1);
  const field = useRef<HTMLInputElement | null>(null);
  // At once: the letters that come next are meant for it, and not for a caption.
  useLayoutEffect(() => {
    field.current?.focus();
    field.current?.select();
  }, []);
  const pattern = wholeWords(find);
  const found = placesOf(words, pattern);
  const go = (place: number, own = found[place]) => {
    if (own === undefined) return;
    setLast(place);
    onGo(own.n, own.offset);
  };
  /** To the place after the last one. What somebody types fast may not be drawn yet. */
  const next = (typed: string) => {
    const places = typed === find ? found : placesOf(words, wholeWords(typed));
    const place = typed === find ? (last + 1) % places.length : 0;
    go(place, places[place]);
  };
  const first = Math.max(0, Math.min(last, found.length - SHOWN));
  return (
    <form
      class="desk-replace"
      onSubmit={(event) => {
        event.preventDefault();
        onEdit({ op: "replace", find, by });
      }}
    >
      <label>
        <span>Find these words</span>
        <input
          ref={field}
          class="desk-find"
          value={find}
          onInput={(event) => {
            setFind(event.currentTarget.value);
            setLast(-1);
          }}
          onKeyDown={(event) => {
            if (event.key !== "Enter") return;
            // Nothing is replaced by a key that finds everywhere else.
            event.preventDefault();
            next(event.currentTarget.value);
          }}
        />
      </label>
      <button type="button" class="desk-small" disabled={found.length === 0} onClick={() => next(find)}>
        Next place
      </button>
      {!words.published && (
        <>
          <label>
            <span>Write instead</span>
            <input value={by} onInput={(event) => setBy(event.currentTarget.value)} />
          </label>
          <button type="submit" disabled={found.length === 0}>
            Replace in {found.length} {found.length === 1 ? "caption" : "captions"}
          </button>
        </>
      )}
      <ol class="desk-preview">
        {found.slice(first, first + SHOWN).map(({ n, start, text }, k) => (
          <li key={n}>
            <button type="button" class="desk-at" onClick={() => go(first + k)}>
              <span class="vh">Go to </span>
              {formatClock(start)}
            </button>{" "}
            {pattern === null || words.published ? text : text.replace(pattern, by.trim())}
          </li>
        ))}
        {found.length > first + SHOWN && <li>and {found.length - first - SHOWN} more</li>}
      </ol>
    </form>
  );
}
