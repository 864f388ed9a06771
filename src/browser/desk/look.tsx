import { Fragment } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskEdited, DeskLook, DeskWords } from "../../model/desk.ts";
import { read, saysOf, write } from "./api.ts";
import { Cautions } from "./cautions.tsx";
import { Fault, Frame } from "./frame.tsx";
import { usePlayback } from "./playback.ts";
import { Recording } from "./recording.tsx";

/** So much is heard before a figure or a doubt, in milliseconds. */
const BEFORE = 2000;
/** Groups in the order in which they can hurt. */
const GROUPS: Readonly<Record<string, string>> = {
  cautions: "Cautions",
  rights: "Rights",
  names: "Names",
  figures: "Figures that disagree",
  recogniser: "What a recogniser made up",
  structure: "Segments and speakers",
  captions: "Captions",
  withdrawn: "What was withdrawn elsewhere",
  files: "The files",
};

type Finding = DeskLook["findings"][number];

/** Figures to tick by ear, and what the checks found, to be mended or let stand with a reason. */
export function Look({ id }: { readonly id: string }) {
  const [look, setLook] = useState<DeskLook | null>(null);
  const [words, setWords] = useState<DeskWords | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [says, setSays] = useState("");
  const playback = usePlayback(words);
  /** Of the files as they are by the last answer: one change may follow another at once. */
  const version = useRef<string | null>(null);
  const queue = useRef<Promise<void>>(Promise.resolve());
  const load = () =>
    Promise.all([
      read<DeskLook>(`/api/look/${id}`).then(setLook),
      read<DeskWords>(`/api/words/${id}`).then((now) => {
        version.current = now.version;
        setWords(now);
      }),
    ]).catch((error: unknown) => setFault(saysOf(error)));
  useEffect(() => void load(), [id]);
  const change = (edit: DeskEdit): Promise<void> => {
    queue.current = queue.current.then(() => send(edit));
    return queue.current;
  };
  const send = async (edit: DeskEdit) => {
    setFault(null);
    try {
      const edited = await write<DeskEdited>(`/api/words/${id}`, { version: version.current, edit });
      if (edited.is === "refused") setFault(edited.says);
      if (edited.is === "stale") setFault("The episode was changed elsewhere meanwhile: look again.");
      if (edited.is === "done") {
        version.current = edited.words.version;
        setSays(edited.says ?? "");
      }
      await load();
    } catch (error) {
      setFault(saysOf(error));
    }
  };
  const play = (at: number) => playback.playFrom(Math.max(0, at - BEFORE));
  return (
    <Frame title="Second look" id={id} here="look">
      <Recording words={words} playback={playback} />
      <p class="desk-lead">{words?.title ?? id}</p>
      <Fault says={fault ?? playback.fault} />
      <p role="status" class="desk-doing">
        {look === null && fault === null ? "Looking it through" : says}
      </p>
      {look !== null && (
        <>
          {Object.entries(GROUPS).map(([group, called]) => (
            <Fragment key={group}>
              <Group
                called={called}
                id={id}
                findings={look.findings.filter((own) => own.group === group && own.rule !== "speakers-proposed")}
                isLocked={words?.published !== false}
                onPlay={play}
                onLet={({ rule, at }, why, by) => change({ op: "let", rule, at, why, by })}
              />
              {group === "cautions" && words !== null && <Cautions look={look} words={words} onEdit={change} />}
            </Fragment>
          ))}
          <Figures id={id} figures={look.figures} onPlay={play} />
        </>
      )}
    </Frame>
  );
}

interface GroupProps {
  readonly called: string;
  readonly id: string;
  readonly findings: readonly Finding[];
  readonly isLocked: boolean;
  readonly onPlay: (at: number) => void;
  readonly onLet: (finding: Finding, why: string, by: string) => Promise<void>;
}

function Group({ called, id, findings, isLocked, onPlay, onLet }: GroupProps) {
  if (findings.length === 0) return null;
  return (
    <section>
      <h2>
        {called}: {findings.length}
      </h2>
      <ul class="desk-findings">
        {findings.map((finding, n) => (
          <li key={`${n} ${finding.rule} ${finding.at ?? ""}`}>
            {finding.at !== null && (
              <>
                <button type="button" class="desk-small" onClick={() => onPlay(finding.at ?? 0)}>
                  <span class="vh">Play </span>
                  {formatClock(finding.at)}
                </button>{" "}
                <a href={`/words/${id}#t=${finding.at / 1000}`}>Words</a>{" "}
              </>
            )}
            {finding.says} <span>{finding.mend}</span>
            {!isLocked && finding.level === "warns" && <Let finding={finding} onLet={onLet} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A finding is let stand: the reason and the name are kept in episode.md. */
function Let({ finding, onLet }: { readonly finding: Finding; readonly onLet: GroupProps["onLet"] }) {
  const [why, setWhy] = useState("");
  const [by, setBy] = useState(localStorage.getItem("afterair by") ?? "");
  return (
    <details class="desk-let">
      <summary>Let it stand</summary>
      <form
        class="desk-replace"
        onSubmit={(event) => {
          event.preventDefault();
          localStorage.setItem("afterair by", by);
          void onLet(finding, why, by);
        }}
      >
        <label>
          <span>Why it stands</span>
          <input required value={why} onInput={(event) => setWhy(event.currentTarget.value)} />
        </label>
        <label>
          <span>Who answers for it</span>
          <input required value={by} onInput={(event) => setBy(event.currentTarget.value)} />
        </label>
        <button type="submit" class="desk-small">
          Take it off the list
        </button>
      </form>
    </details>
  );
}

interface FiguresProps {
  readonly id: string;
  readonly figures: DeskLook["figures"];
  readonly onPlay: (at: number) => void;
}

/** Ticks are this browser's: they say that somebody listened, and nothing of them is published. */
function Figures({ id, figures, onPlay }: FiguresProps) {
  const place = `afterair ticks ${id}`;
  const [ticked, setTicked] = useState<ReadonlySet<string>>(
    () => new Set(JSON.parse(localStorage.getItem(place) ?? "[]") as string[]),
  );
  const tick = (key: string, is: boolean) => {
    const now = new Set(ticked);
    if (is) now.add(key);
    else now.delete(key);
    localStorage.setItem(place, JSON.stringify([...now]));
    setTicked(now);
  };
  const keys = figures.map(({ at, value, words }) => `${Math.floor(at / 1000)} ${value} ${words}`);
  const left = keys.filter((key) => !ticked.has(key)).length;
  return (
    <section>
      <h2>
        Figures: {left} of {figures.length} to tick
      </h2>
      <table class="desk-figures">
        <caption class="vh">Every figure that was said</caption>
        <tbody>
          {figures.map(({ at, words, value, also }, n) => {
            const key = keys[n] ?? "";
            return (
              <tr key={`${n} ${key}`}>
                <td>
                  <input
                    type="checkbox"
                    aria-label={`${value}, at ${formatClock(at)}: heard, and right`}
                    checked={ticked.has(key)}
                    onChange={(event) => tick(key, event.currentTarget.checked)}
                  />
                </td>
                <td>
                  <button type="button" class="desk-small" onClick={() => onPlay(at)}>
                    <span class="vh">Play </span>
                    {formatClock(at)}
                  </button>
                </td>
                <th scope="row">{value}</th>
                <td>{words}</td>
                <td class="desk-also">{also}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
