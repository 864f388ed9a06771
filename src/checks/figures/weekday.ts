import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted } from "../speech.ts";
import { daysMeant, weekdayName, weekdayOf } from "./calendar.ts";
import { whenAt } from "./tense.ts";

export const weekdayNotDate: Check = {
  name: "weekday-not-date",
  level: "warns",
  group: "figures",
  reason: "People write down the weekday or the date, not both: if they disagree, half of them come on the wrong day.",
  looks:
    "A weekday said with a date that falls on another; a date without a year is the nearest to the broadcast, or, if that is over 45 days " +
    "away, the last one where the words say that it has happened, the next one where they say that it is to come, the one of “last year”, " +
    "“this year” or “next year”, and any of the three where they don't say. A date that no year has (31 September); and “it is” or “today is” with another date than the broadcast's.",
  example: "“Thursday, 7 October” in 2026: the 7th is a Wednesday.",
  accept: "The date is of another year, and the report says so.",
  judge: (subject) =>
    subject.figures.flatMap(({ date, words, sentence, at }) => {
      if (date === null) return [];
      const days = daysMeant(date, subject.date, whenAt(sentence, at, words.length));
      const [day] = days;
      const said = `“${quoted(words)}”`;
      if (day === undefined) return doubtOf(words, subject, `There is no such day as ${said}.`, "Find out the date.");
      const is = weekdayOf(day);
      const shown = `${weekdayName(is)} ${Number(day.slice(8))}`;
      if (date.weekday !== null && !days.some((own) => weekdayOf(own) === date.weekday)) {
        const each = days.toSorted().map((own) => `a ${weekdayName(weekdayOf(own))} (${own})`);
        const says = `${said}: the ${ordinal(date.day)} is ${each.join(" or ")}.`;
        return doubtOf(words, subject, says, `Find out whether the weekday or the date is right.`);
      }
      const before = sentence.words.slice(Math.max(0, at - 2), at).map(({ fold }) => fold);
      const isToday = date.weekday !== null && before.at(-1) === "is" && /^(?:it|today)$/.test(before.at(-2) ?? "");
      if (!isToday || day === subject.date) return [];
      const says = `${said}, as of today, but the programme aired on ${subject.date}; ${shown} is another day.`;
      return doubtOf(words, subject, says, "Check the date in the words and `aired` of the episode.");
    }),
};

function ordinal(n: number): string {
  const ending = n % 100 >= 11 && n % 100 <= 13 ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th");
  return `${n}${ending}`;
}
