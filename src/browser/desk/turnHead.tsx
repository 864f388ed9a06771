import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { DeskCaption, DeskEdit } from "../../model/desk.ts";

interface TurnHeadProps {
  readonly caption: DeskCaption;
  /** The number after the turn's last caption. */
  readonly to: number;
  readonly speakers: readonly string[];
  readonly isLocked: boolean;
  /** Somebody asked who speaks: the list takes the keys, until a name is chosen. */
  readonly isAsked: boolean;
  readonly onEdit: (edit: DeskEdit) => void;
  readonly onAnswered: () => void;
}

/** What the list has for whoever is in no list; no name has a line's end. */
const ELSE = "\n";

/** Who speaks in a turn. What is only proposed looks unlike what somebody has said. */
export function TurnHead({ caption, to, speakers, isLocked, isAsked, onEdit, onAnswered }: TurnHeadProps) {
  const { n: from, voice, proposed } = caption;
  const list = useRef<HTMLSelectElement | null>(null);
  /** A name that keys have led to, and nobody has chosen yet: each letter of a name leads to another one. */
  const [near, setNear] = useState<string | null>(null);
  const [isNaming, setIsNaming] = useState(false);
  const isByKey = useRef(false);
  useLayoutEffect(() => {
    if (isAsked) list.current?.focus();
  }, [isAsked]);
  const choose = (name: string | null) => {
    setNear(null);
    setIsNaming(name === ELSE);
    if (name === ELSE) return;
    if (name !== null && name !== (voice ?? "")) onEdit({ op: "voice", from, to, voice: name === "" ? null : name });
    if (isAsked) onAnswered();
  };
  const known = voice === null || speakers.includes(voice) ? speakers : [voice, ...speakers];
  const right = proposed && !isLocked && (
    <>
      <span class="desk-proposed">proposed</span>
      <button type="button" class="desk-small" onClick={() => onEdit({ op: "accept", from, to })}>
        That is right
      </button>
    </>
  );
  if (isLocked || caption.isMixed) {
    const who = caption.isMixed ? "Several voices, or marks in the words: change it in the file" : voice;
    return (
      <div class="desk-turn">
        {who ?? "Speaker not named"} {right}
      </div>
    );
  }
  if (isNaming) {
    return (
      <div class="desk-turn">
        <NewName onNamed={choose} />
      </div>
    );
  }
  return (
    <div class={`desk-turn${proposed ? " is-proposed" : ""}`}>
      <select
        aria-label={`Who speaks${proposed ? " (proposed)" : ""}`}
        ref={list}
        value={near ?? voice ?? ""}
        onPointerDown={() => {
          isByKey.current = false;
        }}
        onKeyDown={(event) => {
          isByKey.current = true;
          if (event.key !== "Enter" && event.key !== "Escape") return;
          event.preventDefault();
          choose(event.key === "Enter" ? near : null);
        }}
        onChange={({ currentTarget: { value } }) => (isByKey.current ? setNear(value) : choose(value))}
        onBlur={() => choose(near)}
      >
        <option value="">Speaker not named</option>
        {known.map((name, n) => (
          <option key={name} value={name}>
            {`${name}${n < 9 ? ` (Alt+${n + 1})` : ""}`}
          </option>
        ))}
        <option value={ELSE}>Somebody else…</option>
      </select>
      {right}
    </div>
  );
}

/** A field for a name that is in no list yet. @param onNamed takes null where nothing was written, or Escape was pressed. */
function NewName({ onNamed }: { readonly onNamed: (name: string | null) => void }) {
  const field = useRef<HTMLInputElement | null>(null);
  useLayoutEffect(() => field.current?.focus(), []);
  const name = (typed: string) => onNamed(typed.replace(/\s+/g, " ").trim() || null);
  return (
    <input
      ref={field}
      aria-label="Name of the speaker"
      placeholder="First name and surname"
      onKeyDown={(event) => {
        if (event.key !== "Enter" && event.key !== "Escape") return;
        event.preventDefault();
        if (event.key === "Escape") event.currentTarget.value = "";
        event.currentTarget.blur();
      }}
      onBlur={({ currentTarget: { value } }) => name(value)}
    />
  );
}
