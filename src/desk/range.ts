/**
 * A `Range` header made plain: `bytes=from-to`, within the file; null where the whole file should be sent instead, which
 * RFC 9110 section 14.2 allows for what is malformed, in other units, or in several parts; "beyond" where nothing of the
 * file is asked for (416).
 * @param size of the file in bytes.
 */
export function plainRange(header: string, size: number): string | null | "beyond" {
  const found = /^bytes=(\d*)-(\d*)$/.exec(header.trim());
  if (found === null) return null;
  const [, first = "", last = ""] = found;
  if (first === "") {
    if (last === "") return null;
    const length = Math.min(Number(last), size);
    return length === 0 ? "beyond" : `bytes=${size - length}-${size - 1}`;
  }
  const from = Number(first);
  if (last !== "" && Number(last) < from) return null;
  if (from >= size) return "beyond";
  return `bytes=${from}-${last === "" ? size - 1 : Math.min(Number(last), size - 1)}`;
}
