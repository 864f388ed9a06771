import { orderOfEpisode } from "../actions/order.ts";
import { formatClock, formatClockSigned, formatOver } from "../model/clock.ts";

/**
 * `afterair check --order`: the running order of an episode as it went out, planned against actual, with the running
 * total, and when each segment had to begin for the programme to end with its slot.
 */
export function orderTable(id: string, content: string): string {
  const { lines, total, overSlot } = orderOfEpisode(id, content);
  const rows = lines.map(({ slug, planned, actual, over, total: sum, totalOver, backTime }) => [
    slug,
    planned === null ? "" : formatClock(planned),
    formatClock(actual),
    over === null ? "" : formatOver(over),
    formatClock(sum),
    formatOver(totalOver),
    backTime === null ? "" : formatClockSigned(backTime),
  ]);
  const head = ["segment", "planned", "ran", "over", "total", "over so far", "due at"];
  const last = [
    "",
    "",
    "",
    "",
    formatClock(total),
    overSlot === null ? "no slot in programme.md" : `${formatOver(overSlot)} against the slot`,
    "",
  ];
  return columns([head, ...rows, last]);
}

/** Text in columns: the first to the left, the others to the right. */
function columns(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, n) => Math.max(...rows.map((row) => row[n]?.length ?? 0)));
  const cell = (text: string, n: number) => (n === 0 ? text.padEnd(widths[n] ?? 0) : text.padStart(widths[n] ?? 0));
  return rows.map((row) => row.map(cell).join("  ").trimEnd()).join("\n");
}
