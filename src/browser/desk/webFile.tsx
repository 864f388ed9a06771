import { useEffect, useState } from "preact/hooks";
import { formatClock, formatClockExact } from "../../model/clock.ts";
import type { DeskWords } from "../../model/desk.ts";
import type { DeskStretch, DeskWebFile } from "../../model/deskOrder.ts";
import { saysOf, work, write } from "./api.ts";
import { Done } from "./entering.tsx";
import { Fault } from "./frame.tsx";
import { Moment } from "./moments.tsx";
import { toThousandth } from "./orderProps.ts";
import { joint, type Playback, toMedia } from "./playback.ts";

interface WebFileProps {
  readonly words: DeskWords;
  readonly playback: Playback;
  readonly onMade: () => void;
}

const DOES = { keep: "stays", cut: "goes", silence: "silence" } as const;
const WHYS = ["break", "rights", "technical"] as const;

/** What the web file will be: what may not be given is left out of it, and what somebody leaves out by ear. */
export function WebFile({ words, playback, onMade }: WebFileProps) {
  const { id, version, order } = words;
  const [plan, setPlan] = useState<DeskWebFile | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [from, setFrom] = useState<number | null>(null);
  const [to, setTo] = useState<number | null>(null);
  const [why, setWhy] = useState<string>(WHYS[0]);
  const [doing, setDoing] = useState<string | null>(null);
  const [done, setDone] = useState<readonly string[]>([]);
  const stretch: DeskStretch | null = from !== null && to !== null && from < to ? { from, to, why } : null;
  const more = stretch === null ? [] : [stretch];
  useEffect(() => {
    let isGone = false;
    write<DeskWebFile>(`/api/webfile/${id}`, { more }).then(
      (now) => {
        if (isGone) return;
        setFault(null);
        setPlan(now);
      },
      (error: unknown) => !isGone && setFault(saysOf(error)),
    );
    return () => {
      isGone = true;
    };
  }, [id, version, from, to, why]);
  const make = async () => {
    setFault(null);
    setDone([]);
    setDoing("Making it");
    try {
      const made = await work(`/api/make/${id}`, { version, more }, setDoing);
      if (made.is === "failed") setFault(made.says);
      else {
        setDone([made.says]);
        setFrom(null);
        setTo(null);
      }
      onMade();
    } catch (error) {
      setFault(saysOf(error));
    }
    setDoing(null);
  };
  const breaks = words.segments.filter(
    ({ kind, in: start, out }) => kind === "break" && toMedia(start, words) < toMedia(out, words),
  );
  const moment = { now: playback.now, frame: order.frame };
  return (
    <section aria-labelledby="webfile">
      <h2 id="webfile">The web file</h2>
      <p class="desk-lead">
        Segments that may not be given are left out of it. Leave out more by ear: a break, a jingle, a fault.
      </p>
      <div class="desk-point desk-row">
        {breaks.map(({ slug, title, in: start, out }) => (
          <button
            key={slug}
            type="button"
            class="desk-small"
            onClick={() => {
              setFrom(start);
              setTo(out);
              setWhy("break");
            }}
          >
            Leave out “{title}”, {formatClock(start)} to {formatClock(out)}
          </button>
        ))}
      </div>
      <Moment called="Leave out from" at={from} onSet={setFrom} {...moment} />
      <Moment called="Leave out to" at={to} onSet={setTo} {...moment} />
      <div class="desk-point desk-row">
        <label>
          <span>Why</span>
          <select value={why} onChange={(event) => setWhy(event.currentTarget.value)}>
            {WHYS.map((own) => (
              <option key={own} value={own}>
                {own}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          class="desk-small"
          disabled={stretch === null}
          onClick={() =>
            stretch !== null && playback.playSpans(...joint(toMedia(stretch.from, words), toMedia(stretch.to, words)))
          }
        >
          Hear both sides
        </button>
        <button
          type="button"
          class="desk-small"
          disabled={from === null && to === null}
          onClick={() => {
            setFrom(null);
            setTo(null);
          }}
        >
          Leave nothing more out
        </button>
      </div>
      <Fault says={fault} />
      {plan !== null && <Plan plan={plan} />}
      {plan !== null && plan.stands === null && (
        <p>
          <button type="button" disabled={doing !== null} onClick={() => void make()}>
            Make {plan.files.join(" and ")}
          </button>
        </p>
      )}
      <Done doing={doing} done={done} />
    </section>
  );
}

const Plan = ({ plan: { stretches, result, kept, stands } }: { readonly plan: DeskWebFile }) => (
  <>
    <table class="desk-order">
      <caption class="vh">What the web file will be, by the recording's own clock</caption>
      <thead>
        <tr>
          {["What", "Why", "From", "To", "Length"].map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {stretches.map(({ does, from, to, why }) => (
          <tr key={from} class="desk-line">
            <th scope="row">{DOES[does]}</th>
            <td>{why}</td>
            <td>{toThousandth(from)}</td>
            <td>{toThousandth(to)}</td>
            <td>{formatClock(to - from)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={4}>
            It will run
          </th>
          <td>{formatClockExact(result)}</td>
        </tr>
      </tfoot>
    </table>
    {kept.map(({ slug, because }) => (
      <p key={slug}>
        {slug} may not be given, and stays in it: {because}
      </p>
    ))}
    {stands !== null && <p class="desk-note">{stands}</p>}
  </>
);
