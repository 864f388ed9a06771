/** What a key can ask of the deck. */
export type Command = "play" | "back" | "on" | "previous" | "next" | "captions" | "mute" | "speed" | "full" | "help";

/** Every key with what it does, as the list of keys tells it. Letters: no button, link or slider uses one. */
export const KEYS: readonly (readonly [key: string, command: Command, does: string])[] = [
  ["k", "play", "Play or pause"],
  ["j", "back", "10 seconds back"],
  ["l", "on", "10 seconds on"],
  ["p", "previous", "Previous segment"],
  ["n", "next", "Next segment"],
  ["s", "speed", "Next speed"],
  ["c", "captions", "Captions on or off"],
  ["m", "mute", "Sound on or off"],
  ["f", "full", "Full screen"],
  ["?", "help", "This list"],
];

interface Press {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly repeat: boolean;
  readonly isComposing: boolean;
}

/**
 * The command of a key; null: the key is the browser's, or that of a tool the reader has. With a modifier none is ours:
 * Shift goes with `?` alone, which many keyboards have only so.
 */
export function commandOf({ key, ctrlKey, altKey, metaKey, shiftKey, repeat, isComposing }: Press): Command | null {
  if (ctrlKey || altKey || metaKey || isComposing || (shiftKey && key !== "?")) return null;
  const [, command = null] = KEYS.find(([own]) => own === key.toLowerCase()) ?? [];
  return repeat && command !== "back" && command !== "on" ? null : command;
}
