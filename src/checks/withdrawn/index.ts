import { heldOn } from "../../record/held.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { withdrawalOf } from "./command.ts";
import { givenOf } from "./given.ts";
import type { WithdrawnFrom } from "./matter.ts";
import { placesIn, type SamePlace } from "./places.ts";

export const withdrawnElsewhere: Check = {
  name: "withdrawn-elsewhere",
  level: "warns",
  group: "record",
  reason:
    "What was taken away in one place is not taken away while another page, or the same evening's headlines, say it.",
  looks:
    "Words withdrawn from any episode, as they stood and as first published, in what is given of this one (words, titles, summaries, " +
    "notes of the programme and of corrections): five in a row, or three rarer ones; a person named in them, within 15 seconds of " +
    "a rare word that was withdrawn near the name, in whatever form (knee, knees; injured, injury); and in the same episode three " +
    "rare words within 8 seconds. Rare is what spoken English and the thirty evenings on either side seldom have (SUBTLEX-US; the " +
    "thresholds are ours). Who presents or is credited is left out. Only the surest are told here; `correct` lists all. Words that " +
    "were cut out of the content since are known by their title, summary, topics and the withdrawal's note alone, as far as those " +
    "are still there; git history, translations and earlier texts are not searched.",
  example: "“sore knee and all”, beside the same player's name, the evening after his knee was withdrawn.",
  accept: "A person looked, and it may stand: the withdrawal was about something else, or the matter is public.",
  judge: (subject) => {
    const { withdrawn } = subject.archive;
    if (withdrawn === null) return [];
    const { episode, spoken, day } = subject;
    const held = heldOn({ episode, also: [] }, day).cues;
    const places = placesIn(withdrawn, givenOf(episode, spoken, held));
    return places.filter(({ sure }) => sure).flatMap((place) => doubtOfPlace(place, subject));
  },
};

/** A place as a doubt about the first of its words. */
export function doubtOfPlace(place: SamePlace, subject: Pick<Subject, "placeOf" | "published">): readonly Doubt[] {
  const { matter, episode, segment, words } = place;
  const says = `${sameAs(place)}, as in what ${matter.from.withdrawal} took away (${nameOf(matter.from)}).`;
  const how = subject.published
    ? `take the ${segment === null ? "episode" : "segment"} away too: \`${withdrawalOf(episode, segment)}\``
    : "edit it before it is published";
  const mend = `Listen, and decide by the station's own code and qualified advice whether it must go here too. Then ${how}.`;
  return doubtOf(words, subject, says, mend).map((doubt) => ({ ...doubt, answered: false, see: [matter.from.at] }));
}

/** `2026-10-06, sport`. */
export const nameOf = ({ episode, segment }: Pick<WithdrawnFrom, "episode" | "segment">): string =>
  segment === null ? episode : `${episode}, ${segment}`;

/** The most words in common that are told: enough to find them, too few to repeat what was withdrawn. */
const TOLD = 5;

/** What a place has in common with what was withdrawn, without a full stop: in a few words. */
export function sameAs({ reason, words }: SamePlace): string {
  switch (reason.by) {
    case "words":
      return `“${quoted(words.slice(0, TOLD))}${words.length > TOLD ? " …" : ""}” stands here`;
    case "person":
      return `${each(words)} ${words.length === 1 ? "stands" : "stand"} here beside ${reason.name}`;
    case "announced":
      return `${each(words)} stand here close together`;
  }
}

function each(words: readonly Word[]): string {
  const own = words.map(({ text }) => `“${text}”`);
  return own.length < 2 ? own.join("") : `${own.slice(0, -1).join(", ")} and ${own.at(-1)}`;
}
