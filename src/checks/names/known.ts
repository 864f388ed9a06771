import { grouped } from "../../model/grouped.ts";
import type { Programme, RegisteredName } from "../../model/programme.ts";
import type { Lexicon } from "../lexicon.ts";
import { foldWord, tokensOf } from "../speech.ts";
import { likeness, type Sounded, soundedOf } from "./likeness.ts";

/** A registered name, ready to be compared. */
export interface KnownName {
  readonly entry: RegisteredName;
  readonly folds: readonly string[];
  readonly sounded: Sounded;
}

/** The register as the checks see it. */
export interface KnownNames {
  readonly names: readonly KnownName[];
  /** Those of several words by how many they are. */
  readonly byLength: ReadonlyMap<number, readonly KnownName[]>;
  /** Every word that stands in a name, in the programme's own, or with a capital in a role. */
  readonly words: ReadonlySet<string>;
  /** Single words that can stand for a name: surnames, first names, places of one word; with the entry. */
  readonly single: ReadonlyMap<string, KnownName>;
  /** What the register gives as misspellings, folded, with a space between words. */
  readonly misspelt: ReadonlyMap<string, Misspelt>;
}

/** A misspelling that the register gives. */
export interface Misspelt {
  readonly name: KnownName;
  /** The name, or the one word of it that is meant. */
  readonly meant: string;
  readonly folds: readonly string[];
}

const wordsOf = (text: string): string[] => tokensOf(text).map((token) => foldWord(token.text));

/** An ordinary word is no name by itself: `Light` of Hallan Light. Times in the list's 51 million words. */
export const ORDINARY = 50;

export function knownNames(programme: Programme, lexicon: Lexicon): KnownNames {
  const names = programme.names.map((entry): KnownName => {
    const folds = wordsOf(entry.name);
    return { entry, folds, sounded: soundedOf(folds.join("")) };
  });
  const words = new Set([
    ...names.flatMap(({ folds }) => folds),
    ...wordsOf(`${programme.title} ${programme.station ?? ""}`),
  ]);
  for (const { entry } of names) {
    for (const role of tokensOf(entry.role ?? "")) if (/^\p{Lu}/u.test(role.text)) words.add(foldWord(role.text));
  }
  const single = new Map<string, KnownName>();
  const twice = new Set<string>();
  for (const name of names) {
    const stands = name.entry.kind === "person" || name.folds.length === 1;
    for (const fold of stands ? name.folds : []) {
      if (lexicon.ordinary(fold) >= ORDINARY) continue;
      if (single.has(fold)) twice.add(fold);
      single.set(fold, { ...name, folds: [fold], sounded: soundedOf(fold) });
    }
  }
  for (const fold of twice) single.delete(fold);
  const byLength = grouped(
    names.filter(({ folds }) => folds.length > 1),
    ({ folds }) => folds.length,
  );
  return { names, byLength, words, single, misspelt: misspellingsOf(names) };
}

function misspellingsOf(names: readonly KnownName[]): ReadonlyMap<string, Misspelt> {
  const right = new Set(names.map(({ folds }) => folds.join(" ")));
  const misspelt = names.flatMap((name) =>
    name.entry.misspelt.map((written): Misspelt => {
      const folds = wordsOf(written);
      return { name, meant: meantBy(folds, name), folds };
    }),
  );
  const known = misspelt.map((one) => [one.folds.join(" "), one] as const);
  return new Map(known.filter(([key]) => key !== "" && !right.has(key)));
}

/** What a misspelling stands for: one word may stand for the name, or for the word of it that is likest. */
function meantBy(folds: readonly string[], { entry }: KnownName): string {
  const sounded = soundedOf(folds.join(""));
  const parts = folds.length > 1 ? [] : entry.name.split(" ");
  const like = (text: string) => likeness(sounded, soundedOf(wordsOf(text).join("")));
  return parts.reduce((best, part) => (like(part) > like(best) ? part : best), entry.name);
}
