import { type Command, Option } from "commander";
import type { Io } from "../io.ts";

/** What a command may do besides: say how it ended. Only `main.ts` touches the process. */
export interface Terminal extends Io {
  exit(code: 0 | 1 | 2): void;
  /** Text without a line end of its own. */
  write(text: string): void;
  /** A line that the next one takes the place of; null where stderr is no terminal. */
  readonly status: ((text: string) => void) | null;
  /** Somebody sits there and can be asked. */
  readonly asks: boolean;
  /** The name or path of ffmpeg, for those who have it. */
  readonly ffmpeg: string;
}

/** Adds commands to the program. */
export type AddCommands = (program: Command, io: Terminal) => void;

export interface ContentFlags {
  readonly content: string;
  readonly on?: string;
}
export interface SiteFlags extends ContentFlags {
  readonly out?: string;
  readonly own?: string;
}

export const contentOption = (): Option => new Option("--content <folder>", "what people write").default("content");
export const outOption = (what: string): Option => new Option("--out <folder>", what);
export const ownOption = (): Option =>
  new Option("--own <folder>", "the station's own templates; left out: the folder that programme.md names as `own`");
export const onOption = (): Option =>
  new Option("--on <date>", "the site as it stood at the end of this day, such as 2026-10-06");
