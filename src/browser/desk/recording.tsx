import type { DeskWords } from "../../model/desk.ts";
import type { Playback } from "./playback.ts";

interface RecordingProps {
  /** Null while nobody knows the episode yet. */
  readonly words: Pick<DeskWords, "id" | "media"> | null;
  readonly playback: Pick<Playback, "audio">;
}

/** The recording, played by the buttons around it: files of the episode's own from this server, others where they are. */
export const Recording = ({ words, playback }: RecordingProps) => (
  // biome-ignore lint/a11y/useMediaCaption: what is said stands on the page, beside what plays it
  <audio ref={playback.audio} preload="metadata">
    {words?.media.map(({ src, type }) => (
      <source
        key={src}
        src={/^[a-z]+:/.test(src) ? src : `/media/${words.id}/${encodeURIComponent(src)}`}
        type={type}
      />
    ))}
  </audio>
);
