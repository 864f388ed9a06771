/** What somebody looks for, as it stands in the address of the search page. */
export interface Query {
  readonly words: string;
  readonly years: readonly string[];
  readonly kinds: readonly string[];
  readonly speaker: string | null;
  readonly topic: string | null;
  readonly place: string | null;
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
    place: one("place"),
    corrected: fields.has("corrected"),
    order: fields.get("order") === "newest" ? "newest" : "closest",
  };
}

/** The query of the address, with its question mark; "" for the bare search page. */
export function writeQuery(query: Query): string {
  const fields = new URLSearchParams();
  if (query.words !== "") fields.set("q", query.words);
  for (const year of query.years) fields.append("year", year);
  if (query.speaker !== null) fields.set("speaker", query.speaker);
  if (query.topic !== null) fields.set("topic", query.topic);
  if (query.place !== null) fields.set("place", query.place);
  for (const kind of query.kinds) fields.append("kind", kind);
  if (query.corrected) fields.set("corrected", "1");
  if (query.order !== "closest") fields.set("order", query.order);
  return fields.size === 0 ? "" : `?${fields}`;
}

export const isNarrowed = (query: Query): boolean =>
  query.years.length > 0 ||
  query.kinds.length > 0 ||
  query.speaker !== null ||
  query.topic !== null ||
  query.place !== null ||
  query.corrected;

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
