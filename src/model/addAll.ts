/** Adds all of some things to a list. `push(...more)` passes each as an argument, and a call breaks with 120,000 of them. */
export function addAll<T>(list: T[], more: Iterable<T>): void {
  for (const one of more) list.push(one);
}
