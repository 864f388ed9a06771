import canonicalize from "canonicalize";

/**
 * A value as canonical JSON (RFC 8785): the same value gives the same text, whatever the order of its members. Throws
 * for what JSON can't hold (NaN, a lone surrogate); an undefined member is left out.
 */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error("no JSON value");
  return text;
}
