/** A word without its punctuation, in small letters; apostrophes stay. */
export const bareWord = (word: string): string =>
  word
    .toLowerCase()
    .replace(/[’‘]/g, "'")
    .replace(/[^\p{L}\p{N}']/gu, "")
    .replace(/^'+|'+$/g, "");

/** The same without the genitive: `Quay's` is the name still. */
export const nameWord = (word: string): string => bareWord(word).replace(/'s$/, "");

/** Whether a sentence ends with a word, quotation marks and brackets aside. */
export const endsSentence = (word: string): boolean => /[.!?…]["'’”)\]]*$/.test(word);

/** Whether a comma stands after a word. */
export const endsWithComma = (word: string): boolean => /,["'’”)\]]*$/.test(word);

/** Whether a stronger stop than a comma stands after a word, but no full stop. */
export const endsClause = (word: string): boolean => /[;:–—]["'’”)\]]*$/.test(word);
