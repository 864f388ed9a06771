import slugify from "@sindresorhus/slugify";

export const SLUG = /^[a-z0-9]+(-[a-z0-9]+)*$/;

/** Longer ones are hard to read out and to type. Common practice, no source. */
const LONGEST = 60;

/**
 * The slug nearest to a text, as a proposal: small letters a to z, digits and single hyphens, at most 60; "" where it has
 * none of them. Letters of other alphabets become what they sound like, and signs such as CO₂ what they stand for
 * (Unicode Standard Annex #15, NFKC). An apostrophe parts no words.
 */
export function slugFrom(text: string): string {
  const words = text.normalize("NFKC").replace(/['’]/g, "");
  return slugify(words, { decamelize: false }).slice(0, LONGEST).replace(/-$/, "");
}

/**
 * The last part of the address of a name's page: its slug, or its letters as numbers (Unicode code points, hexadecimal)
 * where no alphabet of ours has a sound for any of them. Two names may come to one.
 */
export const nameSlug = (name: string): string =>
  slugFrom(name) || [...name].map((letter) => (letter.codePointAt(0) ?? 0).toString(16)).join("-");
