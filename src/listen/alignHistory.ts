/** What the ways through the sound came past: words, each with the one before it on the same way. */
export interface History {
  /** @returns the number of the new record. `before`: -1 for none. */
  add(word: number, from: number, to: number, before: number, gain: number): number;
  /** The records of a way, last word first. */
  back(last: number): readonly Passed[];
  readonly count: number;
  /**
   * Forgets what no living way came past. @param alive calls its argument with the numbers that are needed, and puts
   * what it returns in their place.
   */
  forget(alive: (keep: (record: number) => number) => void): void;
}

export interface Passed {
  readonly word: number;
  /** -1: the word was left out. */
  readonly from: number;
  readonly to: number;
  readonly gain: number;
}

/** Records stand in rows, so that hundreds of thousands of them take little room. */
export function history(): History {
  let size = 1 << 16;
  let rows = new Int32Array(size * 4);
  let gains = new Float32Array(size);
  let count = 0;
  const grow = (): void => {
    size *= 2;
    const [more, others] = [new Int32Array(size * 4), new Float32Array(size)];
    more.set(rows);
    others.set(gains);
    [rows, gains] = [more, others];
  };
  return {
    get count() {
      return count;
    },
    add: (word, from, to, before, gain) => {
      if (count === size) grow();
      const at = count * 4;
      rows[at] = word;
      rows[at + 1] = from;
      rows[at + 2] = to;
      rows[at + 3] = before;
      gains[count] = gain;
      return count++;
    },
    back: (last) => {
      const passed: Passed[] = [];
      for (let n = last; n >= 0; n = rows[n * 4 + 3] ?? -1)
        passed.push({
          word: rows[n * 4] ?? 0,
          from: rows[n * 4 + 1] ?? 0,
          to: rows[n * 4 + 2] ?? 0,
          gain: gains[n] ?? 0,
        });
      return passed;
    },
    forget: (alive) => {
      const needed = new Uint8Array(count);
      alive((record) => {
        for (let n = record; n >= 0 && needed[n] === 0; n = rows[n * 4 + 3] ?? -1) needed[n] = 1;
        return record;
      });
      const now = new Int32Array(count).fill(-1);
      let kept = 0;
      for (let n = 0; n < count; n++) {
        if (needed[n] === 0) continue;
        // What came before has a lower number, so it is moved already.
        const before = rows[n * 4 + 3] ?? -1;
        rows.copyWithin(kept * 4, n * 4, n * 4 + 3);
        rows[kept * 4 + 3] = before < 0 ? -1 : (now[before] ?? -1);
        gains[kept] = gains[n] ?? 0;
        now[n] = kept++;
      }
      count = kept;
      alive((record) => (record < 0 ? -1 : (now[record] ?? -1)));
    },
  };
}
