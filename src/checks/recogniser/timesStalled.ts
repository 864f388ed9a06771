import { type Stretch, type Stretches, stretchesOf } from "../../derive/stretches.ts";
import { formatClock } from "../../model/clock.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { silencesIn } from "./missing.ts";
import { A_LINE, AT_ONCE, fillsSilence, NEVER, type Stall, spokenCues, stallsIn } from "./stalls.ts";

export const timesStalled: Check = {
  name: "times-stalled",
  level: "warns",
  group: "recogniser",
  reason:
    "Where the times stand still, captions flash by or lie over one another, and moments open at the wrong place.",
  looks:
    `Captions in a row, ${A_LINE} words or more together, at over ${NEVER} words a minute: more than anybody can say before the ` +
    "same speaker's next caption begins; and three captions or more that begin at once. A silence before or after that has room " +
    "for no more than their words is told with them. Common practice, no source.",
  example: "72 words from 6:11 to 6:13, and nothing until 6:34.",
  accept: "Several people did speak at once.",
  judge: (subject) => {
    const silences = stretchesOf(silencesIn(subject), (silence) => silence);
    return stallsIn(spokenCues(subject)).flatMap((stall) => tell(stall, silences, subject));
  },
};

function tell(stall: Stall, silences: Stretches<Stretch>, subject: Subject): readonly Doubt[] {
  const { cues, from, to, count, isOneMoment } = stall;
  const words = cues.flatMap((own) => own.words);
  const where = isOneMoment
    ? `${cues.length} captions with ${count} words begin at one moment, ${formatClock(from)}`
    : `${count} words stand from ${formatClock(from)} to ${formatClock(to)}, more than anybody can say`;
  const beside = silences.find(from - AT_ONCE, to + AT_ONCE, (silence) => fillsSilence(stall, silence));
  const empty =
    beside === undefined ? "" : `, and nothing from ${formatClock(beside.from)} to ${formatClock(beside.to)}`;
  const says = `${where}${empty}: the times stand still. The words: ${ends(words)}.`;
  // Words that are corrected have the same times.
  return doubtOf(words, subject, says, mendOf(subject)).map((doubt) => ({ ...doubt, answered: false }));
}

/** So many words of a long stretch are quoted at each end. */
const QUOTED = 4;

const ends = (words: Stall["cues"][number]["words"]): string =>
  words.length <= QUOTED * 2
    ? `“${quoted(words)}”`
    : `“${quoted(words.slice(0, QUOTED))}” to “${quoted(words.slice(-QUOTED))}”`;

/** How times are set right: in a draft by `retime`; what is published is never edited. */
export const mendOf = ({ episode: { id }, published }: Pick<Subject, "episode" | "published">): string =>
  published
    ? "Listen there. It is published, and never edited: replace the text with `afterair publish --reissue`."
    : `Listen there, and correct the times. \`afterair retime ${id} --text FILE\` gives all words new ones, from the recording or ` +
      "from a raw transcript (`--times FILE`).";
