/** The items of a list that the page keeps as JSON in an attribute: only those that are what they should be. */
export function itemsIn<T>(text: string | undefined, isOne: (value: unknown) => value is T): readonly T[] {
  let read: unknown;
  try {
    read = JSON.parse(text ?? "[]");
  } catch {
    return []; // the page is ours: a broken attribute is caught when the site is built
  }
  return Array.isArray(read) ? read.filter(isOne) : [];
}
