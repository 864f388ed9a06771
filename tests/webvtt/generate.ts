/** Draws from a seeded sequence: the same seed, the same draws. */
export interface Draws {
  /** A whole number from 0 to before `n`. */
  below(n: number): number;
  pick<T>(list: readonly T[]): T;
  /** True once in `n` times. */
  once(n: number): boolean;
}

/** The mulberry32 generator; common practice, no source. */
export function drawsFrom(seed: number): Draws {
  let state = seed;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (t ^ (t >>> 14)) >>> 0;
  };
  const below = (n: number): number => next() % n;
  const pick = <T>(list: readonly T[]): T => {
    const one = list[below(list.length)];
    if (one === undefined) throw new RangeError("nothing to pick from");
    return one;
  };
  return { below, pick, once: (n) => below(n) === 0 };
}

const SETTINGS = [
  "vertical:rl vertical:lr vertical:tb vertical: region:r region:none region:r",
  "line:0 line:-1 line:5 line:1.5 line:-0 line:50% line:100% line:100.1% line:-5% line:.5 line:5. line:+1 line:auto",
  "line:50%,start line:0,center line:1,end line:1, line:2,middle line:1,end,start line:1-1 line:1e1 line:%",
  "position:50 position:50% position:0%,line-left position:10%,center position:99.9%,line-right position:1%,left",
  "position:101% position:.5% position:5.% size:50% size:100% size:0% size:035.50% size:50 size:100.5% size:1%,center",
  "align:start align:center align:end align:left align:right align:middle align:START align: align align=end :end x:y",
].flatMap((line) => line.split(" "));

const TEXTS = [
  "Good evening.",
  "from Sollen ",
  "R&D",
  "a & b",
  "&amp;",
  "&lt;b&gt;",
  "&nbsp;",
  "&nbsp",
  "&lrm;",
  "&eacute;",
  "&#8217;",
  "&#x2019;",
  "&#0;",
  "&notit;",
  "5 < 6",
  ">",
  "--",
  "漢",
  "😀",
  "<b>",
  "</b>",
  "<i>",
  "</i>",
  "<u>",
  "</u>",
  "<c.red>",
  "<c.a.b>",
  "</c>",
  "<v Ilse Marrane>",
  "<v.loud Tom>",
  "<v>",
  "<v.x  Ilse \t Marrane >",
  "<c.a..b.>",
  "<00:00:01.500 >",
  "</v>",
  "<lang cy>",
  "</lang>",
  "<ruby>",
  "<rt>",
  "</rt>",
  "</ruby>",
  "<00:00:01.500>",
  "<1.5>",
  "<script>",
  "<br/>",
  "\n",
  " ",
  "\t",
];

function timestamp({ below, once, pick }: Draws): string {
  const two = (n: number): string => String(n).padStart(2, "0");
  const clock = `${two(below(60))}:${two(below(once(20) ? 70 : 60))}.${String(below(1000)).padStart(once(30) ? 2 : 3, "0")}`;
  return once(3) ? `${pick(["00:", "0:", "1:", "01:", "123:", "00:"])}${clock}` : clock;
}

function cue(draws: Draws): string {
  const { below, pick, once } = draws;
  const id = once(3) ? `${pick(["1", "a b", "NOTE", "STYLE", " x ", "-- >", "é"])}\n` : "";
  const arrow = once(15) ? pick(["-->", " -->", "--> ", "\t-->\t", " -> ", "  -->  ", " --->"]) : " --> ";
  const settings = Array.from({ length: once(2) ? below(5) : 0 }, () => pick([" ", " ", "\t", "  "]) + pick(SETTINGS));
  const words = Array.from({ length: below(8) }, () => pick(TEXTS)).join("");
  return `${id}${timestamp(draws)}${arrow}${timestamp(draws)}${settings.join("")}\n${words}`;
}

function block(draws: Draws): string {
  const { below, pick } = draws;
  if (below(4) > 0) return cue(draws);
  return pick([
    "STYLE\n::cue { color: red }",
    "STYLE \na{}\nb{}",
    "STYLE x\na{}",
    "REGION\nid:r lines:2",
    "REGION\nid:r width:50%\nscroll:up",
    "NOTE a comment",
    "NOTE\na comment\nin lines",
    "lost words",
    "lost words\nin lines",
    "00:01.000 -> 00:02.000\nno arrow",
    "bad --> times\nlost",
  ]);
}

/** A WebVTT file of many kinds of blocks, good and bad. */
export function drawFile(draws: Draws): string {
  const { below, pick, once } = draws;
  const first = once(8) ? pick(["WEBVTT x", "WEBVTT\tx", "\uFEFFWEBVTT", "WEBVTT\nKind: captions"]) : "WEBVTT";
  const blocks = Array.from({ length: below(8) }, () => block(draws));
  const parted = [first, ...blocks].reduce((text, next) => text + (once(12) ? "\n" : "\n\n") + next);
  return (parted + pick(["", "\n", "\n\n"])).replaceAll("\n", pick(["\n", "\n", "\n", "\r\n", "\r"]));
}

const HOSTILE = [
  ..."<>&;:.,-%/ \t\n\r\n\n0159avbciNOTESRGWBT#x",
  "-->",
  "\n\n",
  " --> ",
  "00:01.000",
  "&amp;",
  "</",
  "é",
  "\r\n",
];

/** The text with a few characters or lines put in, taken out or doubled. */
export function mutate(text: string, draws: Draws): string {
  const { below, pick } = draws;
  let mutant = text;
  for (let left = 1 + below(4); left > 0; left--) {
    const at = below(mutant.length + 1);
    const to = Math.min(mutant.length, at + below(6));
    const [before, cut, after] = [mutant.slice(0, at), mutant.slice(at, to), mutant.slice(to)];
    mutant = pick([before + pick(HOSTILE) + cut + after, before + after, before + cut + cut + after]);
  }
  return mutant;
}
