/** The paragraph that a result shows, in runs of words found and not. */
export interface Passage {
  /** The paragraph's place among those of its segment. */
  readonly paragraph: number;
  readonly runs: readonly { readonly text: string; readonly found: boolean }[];
  /** How many further paragraphs of the segment have something found in them. */
  readonly others: number;
}

/** Longer paragraphs are cut round what was found. Words; common practice, no source. */
const WHOLE = 90;
const CUT = 70;
const BEFORE = 25;

const WORD = /^([\p{P}\p{S}]*)(.*?)([\p{P}\p{S}]*)$/su;

/**
 * Chooses the paragraph where most of the different words found stand together, then where most of all stand, then the
 * first; of the preferred paragraphs if any of them has one.
 * @param words of the whole segment. @param starts the place in `words` where each paragraph begins, rising.
 * @param found places in `words`.
 * @returns the first preferred paragraph where no word was found (a title matched, or only filters); null without any.
 */
export function passageOf(
  words: readonly string[],
  starts: readonly number[],
  found: readonly number[],
  prefer: (paragraph: number) => boolean,
): Passage | null {
  const places = new Set(found);
  const paragraphs = starts.map((start, paragraph) => {
    const end = starts[paragraph + 1] ?? words.length;
    const hits = [...places].filter((at) => at >= start && at < end);
    return { paragraph, start, end, hits, forms: new Set(hits.map((at) => coreOf(words[at] ?? ""))).size };
  });
  const hit = paragraphs.filter(({ hits }) => hits.length > 0);
  const pool = hit.length > 0 ? hit : paragraphs;
  const wanted = pool.filter(({ paragraph }) => prefer(paragraph));
  const [best] = [...(wanted.length > 0 ? wanted : pool)].sort(
    (a, b) => b.forms - a.forms || b.hits.length - a.hits.length || a.paragraph - b.paragraph,
  );
  if (best === undefined) return null;
  return {
    paragraph: best.paragraph,
    runs: runsOf(words, best.start, best.end, places),
    others: Math.max(0, hit.length - 1),
  };
}

function runsOf(words: readonly string[], start: number, end: number, found: ReadonlySet<number>): Passage["runs"] {
  const first = words.findIndex((_, at) => at >= start && at < end && found.has(at));
  const long = end - start > WHOLE;
  const from = long ? Math.max(start, Math.min(first - BEFORE, end - CUT)) : start;
  const to = long ? Math.min(end, from + CUT) : end;
  const runs: { text: string; found: boolean }[] = [];
  const add = (text: string, isFound: boolean): void => {
    const last = runs.at(-1);
    if (last !== undefined && last.found === isFound) last.text += text;
    else if (text !== "") runs.push({ text, found: isFound });
  };
  if (from > start) add("… ", false);
  for (let at = from; at < to; at++) {
    const word = words[at] ?? "";
    const [, before = "", core = "", after = ""] = WORD.exec(word) ?? [];
    if (at > from) add(" ", false);
    add(found.has(at) ? before : word, false);
    if (found.has(at)) {
      add(core, true);
      add(after, false);
    }
  }
  if (to < end) add(" …", false);
  return runs;
}

const coreOf = (word: string): string => (WORD.exec(word)?.[2] ?? word).toLowerCase();
