import { useState } from "preact/hooks";
import type { DeskProgress } from "../../model/desk.ts";
import { saysOf, sendFile, work } from "./api.ts";
import { Fault, Frame } from "./frame.tsx";

/** What a chosen file is taken for, by its name; what can't be told is asked. */
type Part = "recording" | "order" | "transcript";
interface Chosen {
  readonly file: File;
  readonly part: Part;
}

const PARTS: Readonly<Record<Part, string>> = {
  recording: "Recording",
  order: "Running order",
  transcript: "Raw transcript",
};

function partOf({ name, type }: File): Part {
  if (/^(?:audio|video)\//.test(type) || /\.(?:mp3|ogg|opus|m4a|mp4|wav|flac|webm)$/i.test(name)) return "recording";
  return /\.csv$/i.test(name) && /order/i.test(name) ? "order" : "transcript";
}

const today = (): string => {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** Begins an episode from the recording, the raw transcript and the running order. */
export function Begin() {
  const [id, setId] = useState(today());
  const [chosen, setChosen] = useState<readonly Chosen[]>([]);
  const [cuts, setCuts] = useState("");
  const [keepCues, setKeepCues] = useState(false);
  const [doing, setDoing] = useState<string | null>(null);
  const [end, setEnd] = useState<DeskProgress | null>(null);
  const take = (files: FileList | null) =>
    setChosen([...chosen, ...[...(files ?? [])].map((file) => ({ file, part: partOf(file) }))]);
  const of = (part: Part) => chosen.filter((one) => one.part === part);
  const [transcript, second] = of("transcript");
  const [order, secondOrder] = of("order");
  const wrong = wrongWith(transcript !== undefined, second !== undefined, secondOrder !== undefined);

  const begin = async () => {
    if (transcript === undefined) return;
    setEnd(null);
    try {
      setDoing("Sending the files");
      const sent = new Map<File, string>();
      for (const { file } of chosen) sent.set(file, await sendFile(file));
      const asked = {
        id,
        transcript: sent.get(transcript.file),
        runningOrder: order === undefined ? null : (sent.get(order.file) ?? null),
        media: of("recording").map(({ file }) => sent.get(file)),
        cut: cuts.split(/\s+/).filter((cut) => cut !== ""),
        keepCues,
      };
      setEnd(await work("/api/begin", asked, setDoing));
    } catch (error) {
      setEnd({ is: "failed", says: saysOf(error) });
    }
    setDoing(null);
  };

  return (
    <Frame title="Begin an episode">
      <form
        class="desk-form"
        onSubmit={(event) => {
          event.preventDefault();
          void begin();
        }}
      >
        <label>
          <span>Date, with a name for a second edition: 2026-10-05-late</span>
          <input
            value={id}
            required
            pattern="\d{4}-\d\d-\d\d(-[a-z0-9]+)*"
            onInput={(event) => setId(event.currentTarget.value)}
          />
        </label>
        <label
          class="desk-drop"
          onDragOver={(event) => event.preventDefault()}
          onDrop={(event) => {
            event.preventDefault();
            take(event.dataTransfer?.files ?? null);
          }}
        >
          <span>The recording, the raw transcript and the running order: drop them here, or choose them</span>
          <input type="file" multiple onChange={(event) => take(event.currentTarget.files)} />
        </label>
        {chosen.length > 0 && (
          <table class="desk-files">
            <caption class="vh">Chosen files</caption>
            <tbody>
              {chosen.map((one, n) => (
                <tr key={`${n} ${one.file.name}`}>
                  <th scope="row">{one.file.name}</th>
                  <td>
                    <select
                      aria-label={`What ${one.file.name} is`}
                      value={one.part}
                      onChange={(event) => {
                        const part = event.currentTarget.value as Part;
                        setChosen(chosen.map((other) => (other === one ? { ...one, part } : other)));
                      }}
                    >
                      {Object.entries(PARTS).map(([part, called]) => (
                        <option key={part} value={part}>
                          {called}
                        </option>
                      ))}
                    </select>
                  </td>
                  <td>
                    <button
                      type="button"
                      class="desk-small"
                      onClick={() => setChosen(chosen.filter((other) => other !== one))}
                    >
                      Leave out<span class="vh"> {one.file.name}</span>
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <label>
          <span>What the recording lacks, in aired time: 13:20-15:05=break (nothing, where it is whole)</span>
          <input value={cuts} onInput={(event) => setCuts(event.currentTarget.value)} />
        </label>
        <label class="desk-check">
          <input type="checkbox" checked={keepCues} onChange={(event) => setKeepCues(event.currentTarget.checked)} />
          <span>The transcript is captions that people made: leave them as they are</span>
        </label>
        {chosen.length > 0 && <Fault says={wrong} />}
        <button type="submit" disabled={wrong !== null || doing !== null}>
          Begin
        </button>
      </form>
      <p role="status" class="desk-doing">
        {doing ?? ""}
      </p>
      {end?.is === "failed" && <Fault says={end.says} />}
      {end?.is === "done" && (
        <section class="desk-made" aria-label="What was made">
          <p>{end.says.split("\n")[0]}</p>
          <ul>
            {end.says
              .split("\n")
              .slice(1)
              .map((line) => (
                <li key={line}>{line}</li>
              ))}
          </ul>
          <p>
            <a class="key" href={`/words/${end.to}`}>
              Go to the words
            </a>
          </p>
        </section>
      )}
    </Frame>
  );
}

function wrongWith(hasTranscript: boolean, hasSecond: boolean, hasSecondOrder: boolean): string | null {
  if (!hasTranscript) return "Choose the raw transcript: without words there is nothing to begin with.";
  if (hasSecond) return "Two files are said to be the raw transcript: leave one out, or say what it is.";
  return hasSecondOrder ? "Two files are said to be the running order: leave one out." : null;
}
