import type { EpisodeSources } from "../read/index.ts";
import { type Digest, digestOf } from "../record/digest.ts";

/** What a confirmation is about: the texts of an episode as somebody saw them. @param more texts besides its own. */
export const digestOfTexts = (
  { episode, transcript }: Pick<EpisodeSources, "episode" | "transcript">,
  more: readonly Uint8Array[] = [],
): Digest => digestOf([episode?.bytes, transcript?.bytes, ...more].map((bytes) => digestOf(bytes ?? "")).join("\n"));
