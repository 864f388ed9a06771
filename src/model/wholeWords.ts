/**
 * Finds words as they stand between others, whatever their case: `sea` is not found in `search`.
 * @returns null where there is nothing to find.
 */
export function wholeWords(find: string): RegExp | null {
  const wanted = find.trim().replace(/\s+/g, " ");
  if (wanted === "") return null;
  const plain = wanted.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`(?<![\\p{L}\\p{N}])${plain}(?![\\p{L}\\p{N}])`, "giu");
}
