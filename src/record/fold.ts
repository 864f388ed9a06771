/** A word as it is compared: its folded text, and where it stands in the text it came from. */
export interface Token {
  readonly text: string;
  /** UTF-16 offsets in the text: `from` included, `to` not. */
  readonly from: number;
  readonly to: number;
}

/** Scripts that set no space between words: each of their letters counts as a word. */
const UNSPACED = "\\p{sc=Han}\\p{sc=Hiragana}\\p{sc=Katakana}\\p{sc=Thai}\\p{sc=Lao}\\p{sc=Khmer}\\p{sc=Myanmar}";
/** Letters, digits and symbols that mean something (£, %, °); the minus sign counts as a dash. Common practice, no source. */
const WORDS = new RegExp(
  `[${UNSPACED}]\\p{M}*|(?:(?![${UNSPACED}\\u2212])[\\p{L}\\p{M}\\p{N}\\p{Sc}\\p{Sm}\\p{So}\\p{Cf}])+`,
  "gu",
);
const UNSEEN = /\p{Cf}/gu;
const PLAIN = /^[a-z0-9]+$/;

/**
 * The words of a text for comparison: case folded, letters composed, and all quotes, dashes, white space and other
 * punctuation taken only as the gaps between words. So `Don’t – go!` equals `don't go`, and `3.2` differs from `32`.
 * What is shown is never folded.
 */
export function tokensOf(text: string): readonly Token[] {
  const tokens: Token[] = [];
  for (const match of text.matchAll(WORDS)) {
    const folded = foldWord(match[0]);
    if (folded !== "") tokens.push({ text: folded, from: match.index, to: match.index + match[0].length });
  }
  return tokens;
}

function foldWord(word: string): string {
  if (PLAIN.test(word)) return word;
  return word.normalize("NFKC").replace(UNSEEN, "").toUpperCase().toLowerCase();
}

/** A text folded whole; two texts that fold to the same are the same words. */
export const foldText = (text: string): string =>
  tokensOf(text)
    .map((token) => token.text)
    .join(" ");

const QUOTES = /[\p{Pi}\p{Pf}"'`´‚„]/u;
const DASHES = /[\p{Pd}\u2212]/u;

/** Whether two marks of punctuation are the same but for their typographic form. */
export function samePunctuation(a: string, b: string): boolean {
  return a === b || (QUOTES.test(a) && QUOTES.test(b)) || (DASHES.test(a) && DASHES.test(b));
}
