import { loadLexicon } from "../../src/actions/lexicon.ts";
import { CHECKS, checkEpisode } from "../../src/checks/index.ts";
import type { Subject, Surroundings } from "../../src/checks/subject.ts";
import type { Episode } from "../../src/model/episode.ts";
import type { NameKind, Programme, RegisteredName } from "../../src/model/programme.ts";
import { around, episodeOf, programmeOf, SOMEWHERE, subjectFrom, type Turn } from "./measure/archive.ts";

export const lexicon = await loadLexicon();

export const name = (spelled: string, kind: NameKind = "person"): RegisteredName => ({
  slug: spelled.toLowerCase().replace(/\W+/g, "-"),
  name: spelled,
  kind,
  role: null,
  say: null,
  misspelt: [],
  about: "",
  at: SOMEWHERE,
});

/** A register of invented names. */
export const REGISTER = [
  name("Ilse Marrane"),
  name("Osmund Tarrick"),
  name("Aldous Frayne"),
  name("Jonty Brask"),
  name("Sollen", "place"),
  name("Port Wennick", "place"),
  name("Verrin Line", "organisation"),
  name("Sollen Town", "organisation"),
  name("Hallan Herons", "organisation"),
  name("Farwater News Agency", "organisation"),
  name("The Evening Tide", "programme"),
  name("Second Wind", "vessel"),
];

export interface Setting {
  readonly programme?: Partial<Programme>;
  readonly episode?: Partial<Episode>;
  readonly day?: string;
}

/** Turns of one segment, all by one speaker unless the text begins with `NAME: `. */
export function turnsOf(texts: readonly string[], segment = "a"): Turn[] {
  return texts.map((text) => {
    const [, voice = "A Speaker", words = text] = /^([A-Z][a-z]+ [A-Z][a-z]+): (.+)$/.exec(text) ?? [];
    return { voice, segment, text: words };
  });
}

const places: Surroundings["placeOf"] = ({ at }, piece, offset) => ({
  ...at,
  line: at.line + 1,
  column: offset + 1 + piece,
});

export async function subjectWith(
  turns: readonly Turn[],
  { programme = {}, episode = {}, day = "2026-10-12" }: Setting = {},
): Promise<Subject> {
  const own = await around(programmeOf(REGISTER, programme));
  return subjectFrom(episodeOf(turns, episode), { ...own, day, placeOf: places });
}

/** What one rule says of a text, in the order of its places. The other rules are off: they are not asked about. */
export async function toldBy(rule: string, turns: readonly Turn[], setting: Setting = {}): Promise<readonly string[]> {
  const others = CHECKS.filter(({ name: own }) => own !== rule).map(({ name: own }) => [own, "off"] as const);
  const checks = { ...Object.fromEntries(others), ...setting.programme?.checks };
  return checkEpisode(await subjectWith(turns, { ...setting, programme: { ...setting.programme, checks } }))
    .filter((finding) => finding.rule === rule)
    .map(({ says }) => says);
}
