import { useEffect, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { Draft } from "../../model/correctionDraft.ts";
import type { DeskCorrect, DeskDraft, DeskEntered, DeskPreview, DeskWords } from "../../model/desk.ts";
import { read, saysOf, write } from "./api.ts";
import { ChangeShown, PublicShown } from "./changeShown.tsx";
import { afterEntry, Done } from "./entering.tsx";
import { Fault, Frame } from "./frame.tsx";
import { usePlayback } from "./playback.ts";
import { Recording } from "./recording.tsx";

const EMPTY: Draft = {
  kind: null,
  segment: null,
  at: null,
  field: null,
  said: null,
  now: null,
  every: false,
  signed: null,
  supersedes: null,
  note: null,
};
const CALLED: Readonly<Record<string, string>> = {
  kind: "what went wrong",
  signed: "who signs it",
  note: "the note",
  said: "the published words",
  now: "what they become",
  field: "which part of the page",
  at: "where",
};

/** A dated correction, from a complaint to its entry in the record. */
export function Correct({ id }: { readonly id: string }) {
  const [page, setPage] = useState<DeskCorrect | null>(null);
  const [words, setWords] = useState<DeskWords | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [complaint, setComplaint] = useState("");
  const [passages, setPassages] = useState<readonly number[] | null>(null);
  const [draft, setDraft] = useState<Draft>(EMPTY);
  const [begun] = useState(() => new Date().toISOString());
  const [preview, setPreview] = useState<DeskPreview | null>(null);
  const [isSure, setIsSure] = useState(false);
  const [doing, setDoing] = useState<string | null>(null);
  const [done, setDone] = useState<readonly string[]>([]);
  const playback = usePlayback(words);
  const fail = (error: unknown) => {
    setFault(saysOf(error));
    setDoing(null);
  };
  useEffect(() => {
    read<DeskCorrect>(`/api/correct/${id}`).then(setPage, fail);
    read<DeskWords>(`/api/words/${id}`).then(setWords, fail);
  }, [id]);
  /** What is changed must be looked at again before it is entered. */
  const change = (more: Partial<Draft>) => {
    setDraft({ ...draft, ...more });
    setPreview(null);
    setIsSure(false);
  };
  const choose = (n: number) => {
    const own = page?.captions[n];
    if (own === undefined) return;
    change({ said: own.text, at: formatClock(own.start), segment: own.segment });
    playback.playFrom(Math.max(0, own.start - 2000));
  };
  const look = async (given: Draft) => {
    setFault(null);
    try {
      setPreview(await write<DeskPreview>(`/api/preview/${id}`, { begun, draft: given } satisfies DeskDraft));
    } catch (error) {
      fail(error);
    }
  };
  const enter = async () => {
    if (preview?.is !== "shown") return;
    setFault(null);
    try {
      setDoing("Entering it in the record");
      const body = { begun, draft: preview.draft, digest: preview.digest };
      const entered = await write<DeskEntered>(`/api/correct/${id}`, body);
      if (entered.id === null) return fail(new Error(entered.says.join(" ")));
      const followed = await afterEntry(setDoing);
      setDone([`Entered as ${entered.id}.`, ...entered.says, ...followed.lines]);
      if (!followed.isWell) setFault("It is entered; but look at the lines below.");
      setPreview(null);
      setDraft({ ...EMPTY, signed: draft.signed });
      setDoing(null);
      setPage(await read<DeskCorrect>(`/api/correct/${id}`));
    } catch (error) {
      fail(error);
    }
  };

  const kind = page?.kinds.find((own) => own.kind === draft.kind) ?? null;
  const isWithdrawal = kind?.does === "takes-away";
  return (
    <Frame title="Correct" id={id} here="correct">
      <Recording words={words} playback={playback} />
      <p class="desk-lead">{page?.title ?? id}</p>
      <Fault says={fault} />
      {page !== null && (
        <>
          <form
            class="desk-form"
            onSubmit={(event) => {
              event.preventDefault();
              write<readonly number[]>(`/api/passages/${id}`, { complaint }).then(setPassages, fail);
            }}
          >
            <label>
              <span>What somebody wrote or said about it</span>
              <textarea rows={3} value={complaint} onInput={(event) => setComplaint(event.currentTarget.value)} />
            </label>
            <button type="submit" disabled={complaint.trim() === ""}>
              Find the passage
            </button>
          </form>
          {passages !== null && (
            <section>
              <h2>{passages.length === 0 ? "Nothing in this episode fits these words" : "It may be one of these"}</h2>
              <ol class="desk-findings">
                {passages.map((n) => (
                  <li key={n}>
                    <button type="button" class="desk-small" onClick={() => choose(n)}>
                      {formatClock(page.captions[n]?.start ?? 0)}
                    </button>{" "}
                    <span>{page.captions[n]?.voice ?? ""}</span> {page.captions[n]?.text} {page.captions[n + 1]?.text}
                  </li>
                ))}
              </ol>
              <p>A time plays the passage, and takes its words into the form below.</p>
            </section>
          )}
          <form
            class="desk-form"
            onSubmit={(event) => {
              event.preventDefault();
              void look(draft);
            }}
          >
            <fieldset>
              <legend>What went wrong</legend>
              {page.kinds.map((own) => (
                <label key={own.kind} class="desk-check">
                  <input
                    type="radio"
                    name="kind"
                    checked={draft.kind === own.kind}
                    onChange={() => change({ kind: own.kind })}
                  />
                  <span>
                    <b>{own.name}.</b> {own.meaning}
                  </span>
                </label>
              ))}
            </fieldset>
            {!isWithdrawal && (
              <label>
                <span>The exact published words concerned</span>
                <textarea
                  rows={2}
                  value={draft.said ?? ""}
                  onInput={(event) => change({ said: event.currentTarget.value || null })}
                />
              </label>
            )}
            {!isWithdrawal && (
              <label>
                <span>When, in the programme's time: 3:41</span>
                <input value={draft.at ?? ""} onInput={(event) => change({ at: event.currentTarget.value || null })} />
              </label>
            )}
            <label>
              <span>Segment</span>
              <select
                value={draft.segment ?? ""}
                onChange={(event) => change({ segment: event.currentTarget.value || null })}
              >
                <option value="">{isWithdrawal ? "The whole episode" : "As the words say"}</option>
                {page.segments.map(({ slug, title }) => (
                  <option key={slug} value={slug}>
                    {title}
                  </option>
                ))}
              </select>
            </label>
            {kind?.does === "replaces-field" && (
              <label>
                <span>Which part of the page</span>
                <select
                  value={draft.field ?? ""}
                  onChange={(event) => change({ field: event.currentTarget.value || null })}
                >
                  <option value="">Choose</option>
                  {page.fields.map((field) => (
                    <option key={field} value={field}>
                      {field}
                    </option>
                  ))}
                </select>
              </label>
            )}
            {(kind?.does === "replaces-field" || kind?.does === "replaces-words") && (
              <label>
                <span>What they become</span>
                <textarea
                  rows={2}
                  value={draft.now ?? ""}
                  onInput={(event) => change({ now: event.currentTarget.value || null })}
                />
              </label>
            )}
            {kind?.does === "replaces-words" && (
              <label class="desk-check">
                <input
                  type="checkbox"
                  checked={draft.every}
                  onChange={(event) => change({ every: event.currentTarget.checked })}
                />
                <span>Every place in the episode where they stand</span>
              </label>
            )}
            <label>
              <span>The note that the public reads</span>
              <textarea
                rows={4}
                value={draft.note ?? ""}
                onInput={(event) => change({ note: event.currentTarget.value || null })}
              />
            </label>
            <label>
              <span>Signed</span>
              <input
                value={draft.signed ?? ""}
                onInput={(event) => change({ signed: event.currentTarget.value || null })}
              />
            </label>
            <button type="submit" disabled={draft.kind === null}>
              Show what it will do
            </button>
          </form>
          {preview?.is === "missing" && (
            <Fault says={`Still missing: ${preview.names.map((name) => CALLED[name] ?? name).join(", ")}.`} />
          )}
          {preview?.is === "places" && (
            <section>
              <h2>These words stand in {preview.places.length} places: which is meant?</h2>
              <ol class="desk-findings">
                {preview.places.map(({ at, before, words: own, after }) => (
                  <li key={at}>
                    <button
                      type="button"
                      class="desk-small"
                      onClick={() => {
                        change({ at });
                        void look({ ...draft, at });
                      }}
                    >
                      {at}
                    </button>{" "}
                    {before}
                    <mark>{own}</mark>
                    {after}
                  </li>
                ))}
              </ol>
            </section>
          )}
          {preview?.is === "shown" && (
            <section aria-label="What it will do">
              <h2>{preview.isBlocked ? "This stands in the way" : "As the public will see it"}</h2>
              {preview.findings.length > 0 && (
                <ul class="desk-findings">
                  {preview.findings.map((line) => (
                    <li key={line}>{line}</li>
                  ))}
                </ul>
              )}
              <ChangeShown change={preview.change} note={draft.note ?? ""} />
              {preview.public !== null && <PublicShown {...preview.public} />}
              {preview.elsewhere.length > 0 && (
                <>
                  <h3>
                    {isWithdrawal
                      ? "The same matter stands elsewhere, and stays there"
                      : "The same words stand elsewhere: nothing is done there"}
                  </h3>
                  <ul class="desk-findings">
                    {preview.elsewhere.map(({ says, href }) => (
                      <li key={says}>{href === null ? says : <a href={href}>{says}</a>}</li>
                    ))}
                  </ul>
                </>
              )}
              {!preview.isBlocked && (
                <>
                  <label class="desk-check">
                    <input
                      type="checkbox"
                      checked={isSure}
                      onChange={(event) => setIsSure(event.currentTarget.checked)}
                    />
                    <span>
                      {isWithdrawal
                        ? "I know that this takes the words, the sound and the titles out of every page and file of the site for good, and that copies which others made are not reached by it. The note stays, and so does the record that it was withdrawn."
                        : "It is right. Once entered it is never changed in silence: another correction takes its place."}
                    </span>
                  </label>
                  <p>
                    <button type="button" disabled={!isSure || doing !== null} onClick={() => void enter()}>
                      {isWithdrawal ? "Withdraw" : "Enter the correction"}
                    </button>
                  </p>
                </>
              )}
            </section>
          )}
        </>
      )}
      <Done doing={doing} done={done} />
    </Frame>
  );
}
