import type { DeskCaption, DeskEdit } from "../../model/desk.ts";

interface TurnHeadProps {
  readonly caption: DeskCaption;
  /** The number after the turn's last caption. */
  readonly to: number;
  readonly speakers: readonly string[];
  readonly isLocked: boolean;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** Who speaks in a turn. What is only proposed looks unlike what somebody has said. */
export function TurnHead({ caption, to, speakers, isLocked, onEdit }: TurnHeadProps) {
  const { n: from, voice, proposed } = caption;
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
  return (
    <div class={`desk-turn${proposed ? " is-proposed" : ""}`}>
      <select
        aria-label={`Who speaks${proposed ? " (proposed)" : ""}`}
        value={voice ?? ""}
        onChange={(event) => {
          const name = event.currentTarget.value;
          onEdit({ op: "voice", from, to, voice: name === "" ? null : name });
        }}
      >
        <option value="">Speaker not named</option>
        {known.map((name, n) => (
          <option key={name} value={name}>
            {`${name}${n < 9 ? ` (Alt+${n + 1})` : ""}`}
          </option>
        ))}
      </select>
      {right}
    </div>
  );
}
