/** Things by a key of theirs; keys in the order in which they are met, things in their own order. */
export function grouped<T>(things: readonly T[], keyOf: (thing: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [thing]);
    else group.push(thing);
  }
  return groups;
}
