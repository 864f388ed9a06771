/** A word without its commonest endings, so that `sailing` meets `sailings`. Common practice, no source. */
export const stemOf = (word: string): string =>
  word.length < 5 ? word : word.replace(/(?:ies|es|s|ing|ed|er|or)$/, "");
