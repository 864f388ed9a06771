import { formatClock } from "../model/clock.ts";
import { wordsOf } from "./pageWords.ts";
import { reportAddress } from "./report.ts";

/** Puts the moment into the links that report an error, once there is one. */
export function reportLinks(): (seconds: number, cue: HTMLElement | null) => void {
  const links = [...document.querySelectorAll<HTMLAnchorElement>("a[data-report]")].map((link) => ({
    link,
    href: link.href,
    moment: link.querySelector("[data-moment]"),
  }));
  const episode = /\/(\d{4}-\d{2}-\d{2}[\w-]*)\//.exec(location.pathname)?.[1] ?? null;
  let said = "";
  return (at, cue) => {
    const clock = formatClock(at * 1000);
    const words = cue === null ? "" : wordsOf(cue);
    if (said === clock + words || (said === "" && at === 0)) return;
    said = clock + words;
    const whole = Math.floor(at);
    const page = `${location.origin}${location.pathname}#t=${whole}`;
    const segment = cue?.closest(".segment[id]")?.id ?? null;
    for (const { link, href, moment } of links) {
      link.href = reportAddress(href, { seconds: whole, clock, words, page, episode, segment });
      if (moment !== null) moment.textContent = ` at ${clock}`;
    }
  };
}
