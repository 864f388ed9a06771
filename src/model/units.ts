/** A moment or a length in the episode's own clock (see `Episode.clock`), in whole milliseconds. */
export type ClockMs = number & { readonly clock: "episode" };
/** A moment in the web media file, which lacks the cuts, in whole milliseconds. */
export type MediaMs = number & { readonly clock: "media" };

export const clockMs = (ms: number): ClockMs => ms as ClockMs;
export const mediaMs = (ms: number): MediaMs => ms as MediaMs;

/** Which clock an episode's times count in: `aired` counts the breaks, `media` does not. */
export type Clock = "aired" | "media";

/** Takes `never`: the compiler then finds the case that a switch forgot. */
export function unreachable(value: never): never {
  throw new Error(`unreachable: ${JSON.stringify(value)}`);
}
