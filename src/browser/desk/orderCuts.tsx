import { useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskWords } from "../../model/desk.ts";
import type { DeskOrderCut } from "../../model/deskOrder.ts";
import { Moment } from "./moments.tsx";
import { toThousandth } from "./orderProps.ts";
import { around, type Playback, toClock, toMedia } from "./playback.ts";

interface OrderCutsProps {
  readonly words: DeskWords;
  readonly playback: Playback;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** What the recording lacks. Both sides of a cut lie beside each other in it: they are heard as one. */
export function OrderCuts({ words, playback, onEdit }: OrderCutsProps) {
  const { cuts, frame } = words.order;
  const [changed, setChanged] = useState<number | null>(null);
  // Cuts are written in aired time, whatever the episode's clock.
  const aired = { clock: "aired", cuts } as const;
  const seam = ({ from }: DeskOrderCut) => toMedia(from, aired);
  const now = toClock(toMedia(playback.now, words), aired);
  return (
    <section aria-labelledby="cuts">
      <h2 id="cuts">Cuts</h2>
      {cuts.length === 0 ? (
        <p class="desk-lead">The recording has the whole broadcast.</p>
      ) : (
        <table class="desk-order">
          <caption class="vh">What the recording lacks</caption>
          <thead>
            <tr>
              {["Why", "From", "To", "Length"].map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
              <td />
            </tr>
          </thead>
          <tbody>
            {cuts.map((cut, n) => (
              <Row
                key={cut.from}
                cut={cut}
                isLocked={words.published}
                isChanged={changed === n}
                onHear={() => playback.playSpans(around(seam(cut)))}
                onRight={() => onEdit({ op: "cut", cut: n })}
                onChange={() => setChanged(changed === n ? null : n)}
              />
            ))}
          </tbody>
        </table>
      )}
      {!words.published && (
        <Change
          key={`${changed ?? "new"} ${cuts.length}`}
          cut={changed === null ? undefined : cuts[changed]}
          now={now}
          frame={frame}
          onSet={(from, to, why) => {
            onEdit(changed === null ? { op: "addCut", from, to, why } : { op: "moveCut", cut: changed, from, to });
            setChanged(null);
          }}
          onDrop={() => {
            if (changed !== null) onEdit({ op: "dropCut", cut: changed });
            setChanged(null);
          }}
        />
      )}
    </section>
  );
}

interface RowProps {
  readonly cut: DeskOrderCut;
  readonly isLocked: boolean;
  readonly isChanged: boolean;
  readonly onHear: () => void;
  readonly onRight: () => void;
  readonly onChange: () => void;
}

function Row({ cut: { from, to, why, proposed }, isLocked, isChanged, onHear, onRight, onChange }: RowProps) {
  const at = formatClock(from);
  return (
    <tr class={`desk-line${proposed ? " is-proposed" : ""}${isChanged ? " is-picked" : ""}`}>
      <th scope="row">
        {why} {proposed && <span class="desk-proposed">proposed</span>}
      </th>
      <td>{toThousandth(from)}</td>
      <td>{toThousandth(to)}</td>
      <td>{formatClock(to - from)}</td>
      <td>
        <div class="desk-point">
          <button type="button" class="desk-small" aria-label={`Hear both sides of the cut at ${at}`} onClick={onHear}>
            Hear both sides
          </button>
          {proposed && !isLocked && (
            <button type="button" class="desk-small" aria-label={`That is right: the cut at ${at}`} onClick={onRight}>
              That is right
            </button>
          )}
          {!isLocked && (
            <button
              type="button"
              class="desk-small"
              aria-expanded={isChanged}
              aria-label={`Change the cut at ${at}`}
              onClick={onChange}
            >
              Change
            </button>
          )}
        </div>
      </td>
    </tr>
  );
}

interface ChangeProps {
  /** The one that is changed; left out: it is a new one. */
  readonly cut: DeskOrderCut | undefined;
  /** Where the recording stands, in aired time. */
  readonly now: number;
  readonly frame: number;
  readonly onSet: (from: number, to: number, why: string) => void;
  readonly onDrop: () => void;
}

/** The edges of a cut. A change of the first one moves the second too: what is heard is where it lies, not how long it is. */
function Change({ cut, now, frame, onSet, onDrop }: ChangeProps) {
  const [from, setFrom] = useState<number | null>(cut?.from ?? null);
  const [to, setTo] = useState<number | null>(cut?.to ?? null);
  const [why, setWhy] = useState(cut?.why ?? "break");
  const isWhole = from !== null && to !== null && from < to;
  return (
    <details open={cut !== undefined} class="desk-let">
      <summary>
        {cut === undefined ? "The recording lacks a stretch that is not listed" : `The cut at ${formatClock(cut.from)}`}
      </summary>
      <Moment
        called="It lacks from"
        at={from}
        now={now}
        frame={frame}
        onSet={(at) => {
          if (from !== null && to !== null) setTo(to + at - from);
          setFrom(at);
        }}
      />
      <Moment called="To" at={to} now={now} frame={frame} onSet={setTo} />
      <div class="desk-point desk-row">
        {cut === undefined && (
          <label>
            <span>Why</span>
            <input value={why} onInput={(event) => setWhy(event.currentTarget.value)} />
          </label>
        )}
        <button
          type="button"
          class="desk-small"
          disabled={!isWhole}
          onClick={() => isWhole && onSet(Math.round(from), Math.round(to), why)}
        >
          {cut === undefined ? "The recording lacks it" : "Set it so"}
        </button>
        {cut !== undefined && (
          <button type="button" class="desk-small" onClick={onDrop}>
            The recording has it
          </button>
        )}
      </div>
    </details>
  );
}
