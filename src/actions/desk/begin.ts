import { basename } from "node:path";
import type { DeskProgress } from "../../model/desk.ts";
import type { ListenOptions } from "../listen.ts";
import { newEpisode } from "../new.ts";
import { recognisedText } from "../recognisedText.ts";

/** What an episode is begun from; each file by a name that `fileOf` knows. */
export interface BeginAsked {
  readonly id: string;
  readonly transcript: string;
  readonly runningOrder: string | null;
  readonly media: readonly string[];
  readonly cut: readonly string[];
  readonly keepCues: boolean;
}

export interface Beginning {
  readonly content: string;
  readonly now: Date;
  readonly listen: ListenOptions | null;
  /** Where a file lies. @throws UsageError for one that is not there. */
  fileOf(name: string): string;
  /** Is told what is being done. */
  tell(says: string): void;
}

/** Begins an episode: what was assumed and doubted is told first, then what was understood. */
export async function deskBegin(
  asked: BeginAsked,
  { content, now, listen, fileOf, tell }: Beginning,
): Promise<DeskProgress> {
  const { id, runningOrder, cut, keepCues } = asked;
  const understood: string[] = [];
  const { findings, made } = await newEpisode({
    content,
    id,
    transcript: fileOf(asked.transcript),
    ...(runningOrder === null ? {} : { runningOrder: fileOf(runningOrder) }),
    media: asked.media.map(fileOf),
    cut,
    clock: "aired",
    keepCues,
    now,
    recognised: (what) => understood.push(...recognisedText(what, basename(fileOf(asked.transcript))).split("\n")),
    listen:
      listen === null ? null : { ...listen, progress: (share) => tell(`Listening: ${Math.floor(share * 100)} %`) },
    progress: (doing) => {
      if (doing !== "") tell(doing.startsWith("Reading ") ? "Reading the transcript" : doing);
    },
  });
  const says = findings.map(({ level, says: own, mend }) => `${level === "blocks" ? "Stops: " : ""}${own} ${mend}`);
  if (made === null) return { is: "failed", says: [...says, ...understood].join("\n") };
  const { draft, cues, listened } = made;
  const head = `${cues} captions, ${draft.segments.length} segments.${listened === null ? "" : ` ${listened}`}`;
  return { is: "done", says: [head, ...says, ...understood].join("\n"), to: id };
}
