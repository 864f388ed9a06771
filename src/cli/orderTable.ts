import { orderOfEpisode } from "../actions/order.ts";
import { formatClock } from "../model/clock.ts";

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
    over === null ? "" : signed(over),
    formatClock(sum),
    signed(totalOver),
    backTime === null ? "" : signedClock(backTime),
  ]);
  const head = ["segment", "planned", "ran", "over", "total", "over so far", "due at"];
  const last = [
    "",
    "",
    "",
    "",
    formatClock(total),
    overSlot === null ? "no slot in programme.md" : `${signed(overSlot)} against the slot`,
    "",
  ];
  return columns([head, ...rows, last]);
}

const signedClock = (ms: number): string => (ms < 0 ? `-${formatClock(-ms)}` : formatClock(ms));
/** `+0:12`, `-0:03`: over or under. */
const signed = (ms: number): string =>
  Math.abs(ms) < 500 ? "0:00" : `${ms > 0 ? "+" : "-"}${formatClock(Math.abs(ms))}`;

/** Text in columns: the first to the left, the others to the right. */
function columns(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, n) => Math.max(...rows.map((row) => row[n]?.length ?? 0)));
  const cell = (text: string, n: number) => (n === 0 ? text.padEnd(widths[n] ?? 0) : text.padStart(widths[n] ?? 0));
  return rows.map((row) => row.map(cell).join("  ").trimEnd()).join("\n");
}
