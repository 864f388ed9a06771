import { join } from "node:path";
import type { WithdrawnElsewhere } from "../actions/correctElsewhere.ts";
import type { PlaceElsewhere } from "../actions/elsewhere.ts";
import { type Steps, stepsFor } from "../checks/withdrawn/command.ts";
import { nameOf, sameAs } from "../checks/withdrawn/index.ts";
import { formatClock } from "../model/clock.ts";

/** So many places are shown; the others are counted. */
const MOST = 12;
/** Words of a text that are shown on either side of what was found. */
const AROUND = 6;

/** What the lines must know besides the places. */
export interface Told {
  readonly content: string;
  /** The id of the withdrawal that is about to be made. */
  readonly withdrawal: string;
}

/** The places where a withdrawn matter stands elsewhere, for people, each with what can be done about it. */
export function showElsewhere(
  { places, episodes, unread, url, hasWords }: WithdrawnElsewhere,
  told: Told,
): readonly string[] {
  const shown = places.slice(0, MOST);
  return [
    "",
    places.length === 0
      ? `The same matter was not found elsewhere: ${episodes} episodes were compared, by words and by names.`
      : `The same matter stands elsewhere, the likeliest first. Nothing is done there: look at each, and decide.`,
    ...shown.flatMap((one, n) => [`${String(n + 1).padStart(3)}. ${headOf(one)}`, ...linesOf(one, { ...told, url })]),
    ...(places.length > MOST ? [`     and ${places.length - MOST} more, less likely.`] : []),
    ...(unread.length === 0 ? [] : [`Not compared, because they can't be read: ${someOf(unread)}.`]),
    ...(hasWords ? [] : [GONE]),
    CAUTION,
    "",
  ];
}

const someOf = (ids: readonly string[]): string =>
  `${ids.slice(0, MOST).join(", ")}${ids.length > MOST ? ` and ${ids.length - MOST} more` : ""}`;

const GONE = "The withdrawn words are not in the content any more: only titles, topics and the note could be compared.";
const CAUTION =
  "Compared is what the content still has, not git history, translations or earlier texts. Whether the matter must go elsewhere too is " +
  "for the station's own code and qualified advice.";

function headOf({ place }: PlaceElsewhere): string {
  const { text, words } = place;
  const [first] = words;
  const where = text === null ? formatClock((first?.seconds ?? 0) * 1000) : WHAT[text.kind];
  const of = text?.correction == null ? "" : ` of ${text.correction}`;
  return `${nameOf(place)}, ${where}${of}: ${sameAs(place)}.`;
}

const WHAT = { title: "title", summary: "summary", notes: "programme notes", note: "note" } as const;

function linesOf(
  one: PlaceElsewhere,
  { content, url, withdrawal }: Told & { readonly url: string },
): readonly string[] {
  const { place, published, timed } = one;
  const at = one.at();
  const flags = content === "content" ? "" : ` --content ${quotedForShell(content)}`;
  const file = `${join(content, at.file)}:${at.line}`;
  const { steps, caution }: Steps =
    place.text?.correction === withdrawal
      ? {
          steps: [],
          caution: "This is the note that you are about to publish. Write it in other words: once published, it stays.",
        }
      : stepsFor(place, { ...timed, published, url, file, flags });
  return [
    `       ${passageOf(place)}`,
    ...steps.map(({ verb, what }) => `     ${verb.padEnd(9)}  ${what}`),
    ...(caution === null ? [] : [`                ${caution}`]),
  ];
}

const quotedForShell = (text: string): string =>
  /^[\w./-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;

/** The caption that the words stand in, or the words around them in a text. */
function passageOf({ text, words }: PlaceElsewhere["place"]): string {
  const [first] = words;
  if (first === undefined) return "";
  if (text === null) {
    const caption = first.cue.pieces.map(({ words }) => words).join(" ");
    return caption.replace(/\s+/g, " ").trim();
  }
  const at = text.words.indexOf(first);
  const from = Math.max(0, at - AROUND);
  const shown = text.words.slice(from, at + AROUND + 1).map((word) => word.text + word.after);
  return `${from === 0 ? "" : "… "}${shown.join(" ")}${at + AROUND + 1 < text.words.length ? " …" : ""}`;
}
