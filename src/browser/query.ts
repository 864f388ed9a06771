/** What somebody looks for, as it stands in the address of the search page. */
export interface Query {
  readonly words: string;
  readonly years: readonly string[];
  readonly kinds: readonly string[];
  readonly speaker: string | null;
  readonly topic: string | null;
  readonly corrected: boolean;
  readonly order: "newest" | "closest";
}

/** Reads an address or a form: the names are the same. What isn't known is passed over. */
export function readQuery(fields: URLSearchParams): Query {
  const one = (name: string) => fields.get(name) || null;
  const all = (name: string) => [...new Set(fields.getAll(name).filter((value) => value !== ""))];
  return {
    words: (fields.get("q") ?? "").trim(),
    years: all("year"),
    kinds: all("kind"),
    speaker: one("speaker"),
    topic: one("topic"),
    corrected: fields.has("corrected"),
    order: fields.get("order") === "closest" ? "closest" : "newest",
  };
}

/** The query of the address, with its question mark; "" for the bare search page. */
export function writeQuery(query: Query): string {
  const fields = new URLSearchParams();
  if (query.words !== "") fields.set("q", query.words);
  for (const year of query.years) fields.append("year", year);
  if (query.speaker !== null) fields.set("speaker", query.speaker);
  if (query.topic !== null) fields.set("topic", query.topic);
  for (const kind of query.kinds) fields.append("kind", kind);
  if (query.corrected) fields.set("corrected", "1");
  if (query.order !== "newest") fields.set("order", query.order);
  return fields.size === 0 ? "" : `?${fields}`;
}

export const isNarrowed = (query: Query): boolean =>
  query.years.length > 0 || query.kinds.length > 0 || query.speaker !== null || query.topic !== null || query.corrected;

/** Nothing to look for. */
export const isEmpty = (query: Query): boolean => query.words === "" && !isNarrowed(query);

/**
 * The words as terms that must all be found: each phrase in quotation marks by itself, of whatever shape a keyboard gave
 * them, and the loose words together. Pagefind knows a phrase only where it is the whole term.
 */
export function termsOf(words: string): readonly string[] {
  const straight = words.replace(/[“”„‟«»″]/g, '"');
  const phrases = [...straight.matchAll(/"([^"]*)"/g)].map(([, phrase = ""]) => phrase.trim());
  const loose = straight
    .replace(/"[^"]*"/g, " ")
    .replaceAll('"', " ")
    .trim()
    .replace(/\s+/g, " ");
  return [
    ...phrases.filter((phrase) => phrase !== "").map((phrase) => `"${phrase}"`),
    ...(loose === "" ? [] : [loose]),
  ];
}

const foldedWords = (text: string): readonly string[] =>
  text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "");

/** Of the plural and the singular one, as English makes them: `ferries` and `ferry`, `boxes` and `box`, `boats` and `boat`. */
const single = (word: string): string =>
  word.length < 4
    ? word
    : word
        .replace(/ies$/, "y")
        .replace(/(?<=[sxz]|[cs]h)es$/, "")
        .replace(/(?<!s)s$/, "");

/**
 * Whether a text has every word that is looked for: case, accents and a plural aside. Pagefind finds other forms of a word
 * too, and, where it knows none, what begins like a part of it. Words of scripts that part words otherwise are taken to be there.
 */
export function hasAll(text: string, words: string): boolean {
  const own = new Set(foldedWords(text).map(single));
  return foldedWords(words).every((word) => own.has(single(word)) || !/^[\p{Script=Latin}\p{N}]+$/u.test(word));
}
