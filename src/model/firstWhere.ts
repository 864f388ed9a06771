/** The first place, from 0, for which something holds that holds for every place after it too; `count` where for none. */
export function firstWhere(count: number, holds: (place: number) => boolean): number {
  let [low, high] = [0, count];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
