import { formatClock } from "../../model/clock.ts";
import type { DeskEdit } from "../../model/desk.ts";
import type { DeskOrderCut } from "../../model/deskOrder.ts";
import { toThousandth } from "./orderProps.ts";
import { around, type Playback, toMedia } from "./playback.ts";

interface OrderCutsProps {
  readonly cuts: readonly DeskOrderCut[];
  readonly isLocked: boolean;
  readonly playback: Playback;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** What the recording lacks. Both sides of a cut lie beside each other in it: they are heard as one. */
export function OrderCuts({ cuts, isLocked, playback, onEdit }: OrderCutsProps) {
  // Cuts are written in aired time, whatever the episode's clock.
  const seam = ({ from }: DeskOrderCut) => toMedia(from, { clock: "aired", cuts });
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
            {cuts.map((cut, n) => {
              const { from, to, why, proposed } = cut;
              return (
                <tr key={from} class={`desk-line${proposed ? " is-proposed" : ""}`}>
                  <th scope="row">
                    {why} {proposed && <span class="desk-proposed">proposed</span>}
                  </th>
                  <td>{toThousandth(from)}</td>
                  <td>{toThousandth(to)}</td>
                  <td>{formatClock(to - from)}</td>
                  <td>
                    <div class="desk-point">
                      <button
                        type="button"
                        class="desk-small"
                        aria-label={`Hear both sides of the cut at ${formatClock(from)}`}
                        onClick={() => playback.playSpan(...around(seam(cut)))}
                      >
                        Hear both sides
                      </button>
                      {proposed && !isLocked && (
                        <button
                          type="button"
                          class="desk-small"
                          aria-label={`That is right: the cut at ${formatClock(from)}`}
                          onClick={() => onEdit({ op: "cut", cut: n })}
                        >
                          That is right
                        </button>
                      )}
                    </div>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </section>
  );
}
