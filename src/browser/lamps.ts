import { formatClock } from "../model/clock.ts";

/** The lamp on the strip of the whole programme; `data-runs` is its length in seconds. */
export function lampOnStrip(root: ParentNode): (seconds: number) => void {
  const lamp = root.querySelector<HTMLElement>(".log-strip .now[data-runs]");
  if (lamp === null) return () => {};
  const runs = Number(lamp.dataset.runs);
  return (seconds) => {
    lamp.hidden = false;
    lamp.style.setProperty("--at", part(seconds, runs));
  };
}

/** The lamp in the running order: it stands in the row of the segment being played, with the clock on it; its link is current. */
export function lampInOrder(root: ParentNode): (seconds: number) => void {
  const rows = [...root.querySelectorAll<HTMLElement>(".order-item[data-in][data-seconds]")].map((row) => ({
    row,
    link: row.querySelector("a"),
    always: row.querySelector("a[aria-current]") !== null, // the row of the segment that the page is about
    from: Number(row.dataset.in),
    seconds: Number(row.dataset.seconds),
  }));
  const lamp = root.querySelector<HTMLElement>(".order-item .now");
  const clock = lamp?.querySelector("b") ?? null;
  let lit: (typeof rows)[number] | undefined;
  return (seconds) => {
    const now = rows.find(({ from, seconds: runs }) => seconds >= from && seconds < from + runs);
    if (now !== lit) {
      lit?.row.removeAttribute("data-now");
      if (lit?.always === false) lit.link?.removeAttribute("aria-current");
      now?.row.setAttribute("data-now", "");
      now?.link?.setAttribute("aria-current", "true");
      if (lamp !== null) now?.row.append(lamp);
      lit = now;
    }
    if (lamp === null) return;
    lamp.hidden = now === undefined;
    if (now !== undefined) lamp.style.setProperty("--at", part(seconds - now.from, now.seconds));
    if (clock !== null) clock.textContent = formatClock(seconds * 1000);
  };
}

const part = (seconds: number, runs: number): string =>
  runs > 0 ? Math.min(1, Math.max(0, seconds / runs)).toFixed(4) : "0";
