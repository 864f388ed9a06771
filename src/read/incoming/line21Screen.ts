import type { Code, Command } from "./line21.ts";

/** Words that stood on the screen together. Frames, counted from 0. */
export interface Shown {
  readonly from: number;
  /** Null: until the next ones. */
  readonly to: number | null;
  readonly text: string;
  /** The line of the file that the first of them stands in. */
  readonly line: number;
}

type Rows = Map<number, string[]>;

/** A moment of the file. */
interface Now {
  readonly frame: number;
  readonly line: number;
}

/** What of one channel is shown when; and words that were written and never shown. */
export interface Screen {
  /** Takes a code that is this channel's. */
  take(code: Code, now: Now): void;
  end(): { readonly shown: readonly Shown[]; readonly never: readonly Shown[] };
}

/**
 * The screen of a decoder for one channel (CEA-608; 47 CFR §79.101): pop-on captions are written out of sight and
 * shown at once, roll-up ones line by line, paint-on ones as they come. What a row holds is kept by columns, because
 * corrections go back over it.
 */
export function line21Screen(): Screen {
  const [shown, never]: [Shown[], Shown[]] = [[], []];
  let mode: "pop" | "roll" | "paint" | "text" | null = null;
  let [visible, hidden]: [Rows, Rows] = [new Map(), new Map()];
  let since: Now | null = null;
  let hiddenSince: Now | null = null;
  let [row, column] = [15, 0];

  const target = (): Rows => (mode === "pop" ? hidden : visible);
  const textOf = (rows: Rows): string =>
    [...rows]
      .sort(([a], [b]) => a - b)
      .map(([, cells]) => Array.from(cells, (cell) => cell ?? " ").join(""))
      .join("\n");
  /** What is seen goes, and was seen until then. */
  const clear = (to: number | null) => {
    const text = textOf(visible);
    if (since !== null && text.trim() !== "") shown.push({ from: since.frame, to, text, line: since.line });
    [visible, since] = [new Map(), null];
  };
  const discard = () => {
    const text = textOf(hidden);
    if (hiddenSince !== null && text.trim() !== "")
      never.push({ from: hiddenSince.frame, to: null, text, line: hiddenSince.line });
    [hidden, hiddenSince] = [new Map(), null];
  };
  const write = (text: string, now: Now) => {
    if (mode === null || mode === "text") return;
    if (mode === "pop") hiddenSince ??= now;
    else since ??= now;
    const cells = target().get(row) ?? [];
    target().set(row, cells);
    for (const character of text) cells[column++] = character;
  };
  const back = () => {
    column = Math.max(0, column - 1);
    const cells = target().get(row);
    if (cells !== undefined && column < cells.length) cells.length = column;
  };
  const startMode = (next: typeof mode, { frame }: Now) => {
    if (mode !== next && (mode === "roll" || next === "roll" || next === "paint")) clear(frame);
    mode = next;
  };
  const command = (which: Command, now: Now) => {
    switch (which) {
      case "RCL":
        return startMode("pop", now);
      case "RU2":
      case "RU3":
      case "RU4":
        return startMode("roll", now);
      case "RDC":
        if (mode === "paint") clear(now.frame);
        return startMode("paint", now);
      case "TR":
      case "RTD":
        return startMode("text", now);
      case "BS":
        return back();
      case "DER": {
        const cells = target().get(row);
        if (cells !== undefined && column < cells.length) cells.length = column;
        return;
      }
      case "CR":
        if (mode === "roll") clear(now.frame);
        column = 0;
        return;
      case "EDM":
        return clear(now.frame);
      case "ENM":
        return discard();
      case "EOC":
        clear(now.frame);
        if (textOf(hidden).trim() !== "")
          [visible, since] = [hidden, { frame: now.frame, line: hiddenSince?.line ?? now.line }];
        [hidden, hiddenSince, mode] = [new Map(), null, "pop"];
        return;
      case "AOF":
      case "AON":
      case "FON":
        return;
    }
  };
  return {
    take(code, now) {
      switch (code.is) {
        case "text":
        case "special":
          return write(code.text, now);
        case "extended":
          column = Math.max(0, column - 1);
          return write(code.text, now);
        case "style":
          return write(" ", now);
        case "tab":
          column += code.columns;
          return;
        case "row":
          // Rolling captions stand in one row, wherever it is put.
          if (mode === "roll") column = Math.max(column, (visible.get(row)?.length ?? 0) === 0 ? 0 : column + 1);
          else [row, column] = [code.row, code.column];
          return;
        case "command":
          return command(code.command, now);
      }
    },
    end() {
      clear(null);
      discard();
      return { shown, never };
    },
  };
}
