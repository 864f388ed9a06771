import { formatClock } from "../../model/clock.ts";
import type { Subject } from "../subject.ts";
import { daysMeant, weekdayName, weekdayOf } from "./calendar.ts";
import type { Figure, FigureKind } from "./line.ts";
import { whenAt } from "./tense.ts";
import { unitNamed } from "./units.ts";

/** A row of the figures sheet, for a person to tick. */
export interface SheetRow {
  /** In the episode's clock. */
  readonly seconds: number;
  /** The slug of the segment; null: none. */
  readonly segment: string | null;
  /** The figure with its sentence's words around it. */
  readonly words: string;
  readonly kind: FigureKind;
  readonly value: string;
  readonly unit: string | null;
  /** Common conversions: `1.6 miles`, `Thursday 8 October 2026`. */
  readonly also: readonly string[];
}

/** How many words of the sentence stand on each side of a figure. */
const AROUND = 4;

/** All figures of an episode with their time, words, value and common conversions, in order. */
export function figuresOf({ figures, date }: Pick<Subject, "figures" | "date">): readonly SheetRow[] {
  return figures.map((figure) => {
    const { sentence, at, words } = figure;
    const around = sentence.words.slice(Math.max(0, at - AROUND), at + words.length + AROUND);
    return {
      seconds: words[0]?.seconds ?? 0,
      segment: sentence.segment,
      words: around.map(({ text, after }) => text + after).join(" "),
      kind: figure.kind,
      value: valueText(figure),
      unit: figure.per === null ? figure.unit : `${figure.unit ?? ""} per ${figure.per}`,
      also: conversionsOf(figure, date),
    };
  });
}

function valueText({ kind, value, against, date }: Figure): string {
  if (kind === "score") return `${value}–${against ?? 0}`;
  if (kind === "time")
    return `${String(Math.floor(value / 60)).padStart(2, "0")}:${String(value % 60).padStart(2, "0")}`;
  if (date !== null)
    return [date.year, date.month, date.day]
      .filter((n) => n !== null)
      .map((n) => String(n).padStart(2, "0"))
      .join("-");
  return kind === "year" ? String(value) : value.toLocaleString("en-GB", { maximumFractionDigits: 6 });
}

function conversionsOf(figure: Figure, aired: string): readonly string[] {
  const { kind, value, unit, date, per } = figure;
  if (date !== null) {
    const [day] = daysMeant(date, aired, whenAt(figure.sentence, figure.at, figure.words.length));
    return day === undefined ? ["no such day"] : [`${weekdayName(weekdayOf(day))} ${day}`];
  }
  const year = Number(aired.slice(0, 4));
  if (kind === "year") return value <= year ? [`${year - value} years before`] : [];
  if (kind === "age") return [`born ${year - value - 1} or ${year - value}`];
  const also = unit === null ? undefined : unitNamed(unit)?.also;
  if (kind !== "measure" || also === undefined) return [];
  return [`${Number(also.convert(value).toPrecision(3))} ${also.unit}${per === null ? "" : ` per ${per}`}`];
}

/** The sheet as text: a row a figure, columns parted by two spaces. */
export function sheetText(rows: readonly SheetRow[]): string {
  const cells = rows.map(({ seconds, kind, value, unit, also, words }) => [
    formatClock(seconds * 1000),
    kind,
    `${value}${unit === null ? "" : ` ${unit}`}`,
    also.join(", "),
    words,
  ]);
  const widths = [0, 1, 2, 3].map((n) => Math.max(0, ...cells.map((row) => row[n]?.length ?? 0)));
  return cells
    .map((row) => `[ ]  ${row.map((cell, n) => cell.padEnd(widths[n] ?? 0)).join("  ")}`.trimEnd())
    .join("\n");
}
