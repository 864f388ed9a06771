import type { CorrectionChange, ShownCue } from "../actions/correctionChange.ts";
import { formatClock } from "../model/clock.ts";
import { marked } from "../model/excerpt.ts";

/** What a correction does to an episode, for people: the passage in its context, before and after. */
export function showChange(change: CorrectionChange, episode: string): readonly string[] {
  switch (change.what) {
    case "field":
      return [`${change.of}: ${change.field}`, `  before  ${change.said}`, `  after   ${change.now}`];
    case "taken-away": {
      const what = change.segment === null ? `the whole episode ${episode}` : `the segment ${change.segment}`;
      const gone = `${change.cues} cues, its titles, its summary and its sound`;
      return [`Takes away ${what}: ${gone}. The note stays in their place.`];
    }
    case "note":
      return [`A note ${change.segment === null ? "on the episode" : `on ${change.segment}`}, at no words.`];
    case "passages":
      return ["before", ...change.before.map(row), "after", ...change.after.map(row)];
  }
}

/** One cue in a line; marked words stand in angle quotes. */
function row({ start, touched, pieces }: ShownCue): string {
  const words = pieces.map(({ voice, runs }) => {
    const text = runs.map((run) => (run.marked ? marked(run.text) : run.text)).join("");
    return `${voice === null ? "" : `${voice}: `}${text.replace(/\s+/g, " ").trim()}`;
  });
  return `${touched ? ">" : " "} ${formatClock(start).padStart(7)}  ${words.join(" / ")}`;
}
