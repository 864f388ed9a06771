/**
 * Cuts samples that come in pieces into windows that overlap, or follow one another.
 * @param length of a window, and `shift` from one to the next, in samples.
 * @param hear is given each window: it begins at `start` of `samples`, which hold until it comes back.
 * @returns what takes the samples.
 */
export function windows(
  length: number,
  shift: number,
  hear: (samples: Float32Array, start: number) => void,
): (samples: Float32Array) => void {
  let held = new Float32Array(0);
  return (samples) => {
    const all = new Float32Array(held.length + samples.length);
    all.set(held);
    all.set(samples, held.length);
    let start = 0;
    for (; start + length <= all.length; start += shift) hear(all, start);
    held = all.slice(start);
  };
}
