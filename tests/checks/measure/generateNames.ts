import { checkEpisode } from "../../../src/checks/index.ts";
import type { RegisteredName } from "../../../src/model/programme.ts";
import { randomFrom } from "../../support/random.ts";
import { around, episodeOf, programmeOf, SOMEWHERE, subjectFrom } from "./archive.ts";
import { GROUP_RULES } from "./broadcasts.ts";
import { invented, mutated } from "./mutate.ts";
import type { Speech } from "./speeches.ts";
import { emptyTally, type Tally, tallyUp } from "./tally.ts";

/** Frames that put a name into the middle, the beginning or the end of somebody else's sentence. */
const FRAMES: readonly ((name: string, sentence: string) => string)[] = [
  (name, sentence) => `${name} said: ${sentence}`,
  (name, sentence) => `According to ${name}, ${sentence}`,
  (name, sentence) => `We asked ${name} about it. ${sentence}`,
  (name, sentence) => `${sentence} That was ${name}.`,
  (name, sentence) => `The report is by ${name}. ${sentence}`,
];

/** Names of a register of invented people and places, in speeches; every second one is mutated. */
export async function measureNames(speeches: readonly Speech[], seed: number): Promise<Tally> {
  const random = randomFrom(seed);
  const tally = emptyTally();
  for (const speech of speeches) {
    const register = Array.from({ length: 40 }, (_, n): RegisteredName => {
      const name =
        n % 4 === 3
          ? `${invented(random)} ${random.pick(["Harbour", "Council", "United", "Light"])}`
          : `${invented(random)} ${invented(random)}`;
      return {
        slug: `n${n}`,
        name,
        kind: n % 4 === 3 ? "organisation" : "person",
        role: null,
        say: null,
        misspelt: [],
        about: "",
        at: SOMEWHERE,
      };
    });
    const put: { text: string; name: string; turn: number }[] = [];
    const turns = speech.sentences.slice(0, 60).map((sentence, turn) => {
      if (turn % 3 !== 0) return { voice: "A Speaker", segment: "a", text: sentence };
      const { name } = random.pick(register);
      const text = random.chance(0.5) ? mutated(name, random) : name;
      if (text !== name) put.push({ text, name, turn });
      return { voice: "A Speaker", segment: "a", text: random.pick(FRAMES)(text, sentence) };
    });
    const surroundings = {
      ...(await around(programmeOf(register))),
      placeOf: ({ at }: { readonly at: typeof SOMEWHERE }) => at,
    };
    const findings = checkEpisode(subjectFrom(episodeOf(turns), surroundings)).filter(({ rule }) =>
      GROUP_RULES.names.has(rule),
    );
    tallyUp(
      tally,
      put.map(({ text, name }) => ({
        name: `${name} > ${text}`,
        rules: ["name-near-miss"],
        isAt: ({ says }) =>
          text.split(" ").some((word) => says.includes(word)) && says.includes(name.split(" ").at(-1) ?? ""),
      })),
      findings,
    );
  }
  return tally;
}
