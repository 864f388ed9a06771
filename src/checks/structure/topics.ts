import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";

export const topicTwoSpellings: Check = {
  name: "topic-two-spellings",
  level: "warns",
  group: "structure",
  reason: "A topic spelled two ways is two pages with half of the archive each.",
  looks:
    "Topics of the whole archive that are one but for capitals, hyphens, blanks or a plural, or that are six letters or more and one " +
    "letter apart; told where the rarer one is given. For an episode asked for by name: topics of its year and the two before.",
  example: "`Ferries` and `ferry`.",
  accept: "They are two topics.",
  judge: ({ episode, archive }) =>
    episode.segments.flatMap((segment) =>
      segment.topics.flatMap((topic) => {
        const times = archive.topics.get(topic)?.times ?? 0;
        const usual = archive
          .likeTopic(topic)
          .find(([other, seen]) => other !== topic && isUsual(topic, times, other, seen.times));
        if (usual === undefined) return [];
        const [other, seen] = usual;
        const says = `The topic “${topic}” is “${other}” elsewhere, ${seen.times} ${seen.times === 1 ? "time" : "times"}.`;
        return [
          { ...doubtAt(segment.at, segment.in, says, `Write ${other}, or change the others.`, seen.at), words: topic },
        ];
      }),
    ),
};

const isUsual = (topic: string, times: number, other: string, otherTimes: number): boolean =>
  otherTimes > times || (otherTimes === times && other < topic);
