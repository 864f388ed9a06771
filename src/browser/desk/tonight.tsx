import { useEffect, useState } from "preact/hooks";
import type { DeskEpisode, DeskTonight } from "../../model/desk.ts";
import { read, saysOf } from "./api.ts";
import { Fault, Frame } from "./frame.tsx";

const STATES = { draft: "Draft", published: "Published", unreadable: "Can't be read" } as const;

/** The evenings, and what each waits for. */
export function Tonight() {
  const [tonight, setTonight] = useState<DeskTonight | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    read<DeskTonight>("/api/tonight").then(setTonight, (error: unknown) => setFault(saysOf(error)));
  }, []);
  return (
    <Frame title="Tonight">
      <Fault says={fault} />
      {tonight !== null && (
        <>
          <p class="desk-lead">{tonight.programme}</p>
          <p>
            <a class="key" href="/begin">
              Begin an episode
            </a>
          </p>
          {tonight.episodes.length === 0 && <p>There is no episode yet.</p>}
          <ul class="desk-evenings">
            {tonight.episodes.map((episode) => (
              <Evening key={episode.id} episode={episode} />
            ))}
          </ul>
        </>
      )}
    </Frame>
  );
}

function Evening({ episode: { id, title, state, next } }: { readonly episode: DeskEpisode }) {
  return (
    <li class={`desk-evening is-${state}`}>
      <span class="desk-date">{id}</span>
      <span class="desk-state">{STATES[state]}</span>
      <h2>{state === "unreadable" ? title : <a href={`/words/${id}`}>{title}</a>}</h2>
      <p>
        {next} {state === "published" && <a href={`/correct/${id}`}>Correct it</a>}
      </p>
    </li>
  );
}
