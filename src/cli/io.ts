/** What a command may do to the world besides files. */
export interface Io {
  out(text: string): void;
  err(text: string): void;
  /** The moment the command was called. */
  readonly now: Date;
}
