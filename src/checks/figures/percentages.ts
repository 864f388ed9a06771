import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";

/** Words of sentences in which percentages are no parts of one whole. */
const COMPARES =
  /^(?:more|less|fewer|higher|lower|up|down|rise|rises|rose|risen|fall|falls|fell|fallen|increase[ds]?|decrease[ds]?|grow|grew|growth|than|compared|cut|cuts|rate|rates|inflation|tax|taxes|interest|discount|cheaper|dearer|faster|slower|from|while|whereas|unemployment|rather|last|drop|dropped|reduce[ds]?|reduction|turnout|gain|gained|raise[ds]?|over|nearly|least)$/;
/** Rounding can take a whole to this. */
const WHOLE = 101;

export const percentagesOverWhole: Check = {
  name: "percentages-over-100",
  level: "warns",
  group: "figures",
  reason: "Parts that sum to more than the whole show that one of them was heard or worked out wrong.",
  looks:
    "Two percentages or more in one sentence, with no word that compares and no more than one “percent of”, that sum to over 101; and " +
    "more than 100 percent of a group.",
  example: "“Forty-eight percent were for it, 39 percent against, and 23 percent did not know.”",
  accept: "People could give more than one answer, or the percentages are of different wholes.",
  judge: (subject) => {
    const percentages = subject.figures.filter(({ kind }) => kind === "percent");
    return [...grouped(percentages, ({ sentence }) => sentence)].flatMap(([sentence, figures]) => {
      if (sentence.words.some(({ fold }) => COMPARES.test(fold))) return [];
      const sum = figures.reduce((total, { value }) => total + value, 0);
      const wholes = figures.filter(({ at, words }) => sentence.words[at + words.length]?.fold === "of");
      const [first] = figures;
      const isOver = figures.length > 1 ? wholes.length <= 1 && sum > WHOLE : wholes.length === 1 && sum > 100;
      if (!isOver || first === undefined) return [];
      const says =
        figures.length > 1
          ? `${figures.map(({ value }) => value).join(", ")} percent sum to ${Number(sum.toFixed(2))}.`
          : `${sum} percent of a whole is more than all of it.`;
      return doubtOf(
        figures.flatMap(({ words }) => words),
        subject,
        says,
        "Check each of them against the source.",
      );
    });
  },
};
