/**
 * From letters to phones, for names and words that no dictionary has. The rules are in the manner of Elovitz and others,
 * "Automatic Translation of English Text to Phonetics by Means of Letter-to-Sound Rules" (Naval Research Laboratory
 * Report 7948, 1976, a work of the United States government), shortened to what names need. A rule is letters, what must
 * stand before and after them, and phones. The longest rule that fits wins, then the earlier one.
 */
type Rule = readonly [letters: string, phones: string, after?: RegExp | undefined, before?: RegExp];

const V = "[aeiouy]";
const MAGIC_E = /^[^aeiouyw]e(?:s|d)?$/;
const SOFT = /^[eiy]/;
const END = /^$/;
const START = /^$/;

const RULES: readonly Rule[] = [
  ["augh", "AO"],
  ["eigh", "EY"],
  ["igh", "AY"],
  ["ough", "AO", /^t/],
  ["ough", "OW"],
  ["tion", "SH AH N"],
  ["sion", "ZH AH N"],
  ["ture", "CH ER"],
  ["tch", "CH"],
  ["sch", "S K"],
  ["dge", "JH"],
  ["que", "K", END],
  ["ique", "IY K", END],
  ["ought", "AO T"],
  ["aigh", "EY"],
  ["eau", "OW"],
  ["ious", "IY AH S", END],
  ["cious", "SH AH S", END],
  ["ous", "AH S", END],
  ["able", "AH B AH L", END],
  ["ible", "AH B AH L", END],
  ["mouth", "M AH TH", END, /.{3}/],
  ["borough", "B ER OW", END],
  ["ham", "AH M", END, /.{2}/],
  ["shire", "SH ER", END, /.{2}/],
  ["ford", "F ER D", END, /.{2}/],
  ["wick", "W IH K", END, /.{2}/],
  ["ley", "L IY", END, /.{2}/],
  ["sey", "Z IY", END, /.{2}/],
  ["ney", "N IY", END, /.{2}/],
  ["ster", "S T ER", END],
  ["ch", "CH"],
  ["ck", "K"],
  ["cc", "K S", SOFT],
  ["ph", "F"],
  ["sh", "SH"],
  ["th", "TH"],
  ["wh", "W"],
  ["gh", "G", undefined, START],
  ["gh", ""],
  ["gn", "N", undefined, START],
  ["kn", "N", undefined, START],
  ["wr", "R", undefined, START],
  ["ps", "S", undefined, START],
  ["ng", "NG", END],
  ["ng", "NG", /^s$/],
  ["ng", "NG G"],
  ["nk", "NG K"],
  ["qu", "K W"],
  ["mb", "M", END],
  ["sc", "S", SOFT],
  ["air", "EH R"],
  ["are", "EH R", END],
  ["ear", "IH R"],
  ["eer", "IH R"],
  ["ere", "IH R", END],
  ["ire", "AY ER", END],
  ["oar", "AO R"],
  ["oor", "AO R"],
  ["our", "AO R"],
  ["ore", "AO R"],
  ["ure", "Y UH R", END],
  ["ier", "IY ER", END],
  ["ar", "EH R", /^[aeiouy]/],
  ["ar", "AA R"],
  ["er", "EH R", /^[aeiouy]/],
  ["er", "ER"],
  ["ir", "ER"],
  ["or", "AO R"],
  ["ur", "ER"],
  ["yr", "IH R"],
  ["arr", "AE R"],
  ["err", "EH R"],
  ["orr", "AO R"],
  ["urr", "ER"],
  ["irr", "IH R"],
  ["ai", "EY"],
  ["ay", "EY"],
  ["au", "AO"],
  ["aw", "AO"],
  ["all", "AO L", END],
  ["alk", "AO K"],
  ["ea", "IY"],
  ["ee", "IY"],
  ["ei", "IY"],
  ["ey", "IY", END],
  ["ey", "EY"],
  ["eu", "Y UW"],
  ["ew", "UW"],
  ["ie", "IY"],
  ["ia", "IY AH"],
  ["io", "IY OW"],
  ["iu", "IY AH"],
  ["oa", "OW"],
  ["oe", "OW", END],
  ["oi", "OY"],
  ["oy", "OY"],
  ["oo", "UW"],
  ["ou", "AW"],
  ["ow", "OW", END],
  ["ow", "AW"],
  ["ua", "UW AH"],
  ["ui", "UW IH"],
  ["ue", "UW", END],
  ["ae", "EY"],
  ["aa", "AA"],
  ["a", "EY", MAGIC_E],
  ["a", "AH", END],
  ["a", "AE"],
  ["e", "IY", MAGIC_E],
  ["e", "IY", END, /^[^aeiouy]*$/],
  ["e", "", END],
  ["ed", "D", END, /[aeiouy].*[^td]$/],
  ["es", "Z", END, /[aeiouy].*[^sxz]$/],
  ["e", "EH"],
  ["i", "AY", MAGIC_E],
  ["i", "IY", END],
  ["i", "IH"],
  ["o", "OW", MAGIC_E],
  ["o", "OW", END],
  ["o", "OW", new RegExp(`^[^${V.slice(1, -1)}][aeiou]`)],
  ["o", "AA"],
  ["u", "UW", MAGIC_E],
  ["u", "UW", END],
  ["u", "AH"],
  ["y", "Y", /^[aeiou]/, START],
  ["y", "AY", END, /^[^aeiouy]*$/],
  ["y", "IY", END],
  ["y", "AY", MAGIC_E],
  ["y", "IH"],
  ["b", "B"],
  ["c", "S", SOFT],
  ["c", "K"],
  ["d", "D"],
  ["f", "F"],
  ["g", "JH", /^e$/],
  ["g", "G"],
  ["h", "HH", /^[aeiouy]/],
  ["h", ""],
  ["j", "JH"],
  ["k", "K"],
  ["le", "AH L", END, /[^aeiouy]$/],
  ["l", "L"],
  ["m", "M"],
  ["n", "N"],
  ["p", "P"],
  ["q", "K"],
  ["r", "R"],
  ["s", "Z", END, /[aeioubdgmnvr]$/],
  ["s", "S"],
  ["t", "T"],
  ["v", "V"],
  ["w", "W", /^[aeiouy]/],
  ["w", ""],
  ["x", "Z", undefined, START],
  ["x", "K S"],
  ["z", "Z"],
];

/** How letters are said that no rule takes: the same two as one. */
const DOUBLES = /([bcdfgklmnprstvz])\1/g;

/** The names of the letters, for what has no vowel. */
const LETTERS: Readonly<Record<string, string>> = {
  a: "EY",
  b: "B IY",
  c: "S IY",
  d: "D IY",
  e: "IY",
  f: "EH F",
  g: "JH IY",
  h: "EY CH",
  i: "AY",
  j: "JH EY",
  k: "K EY",
  l: "EH L",
  m: "EH M",
  n: "EH N",
  o: "OW",
  p: "P IY",
  q: "K Y UW",
  r: "AA R",
  s: "EH S",
  t: "T IY",
  u: "Y UW",
  v: "V IY",
  w: "D AH B AH L Y UW",
  x: "EH K S",
  y: "W AY",
  z: "Z EH D",
};

/** The phones of a word by its letters; empty where it has none that English has. @param word small letters. */
export function spellOut(word: string): readonly string[] {
  const letters = word.replace(/[^a-z]/g, "");
  if (!/[aeiouy]/.test(letters)) return phonesOf([...letters].map((letter) => LETTERS[letter] ?? ""));
  const single = letters.replace(DOUBLES, (_, letter: string) => (letter === "r" ? "rr" : letter));
  const said: string[] = [];
  for (let at = 0; at < single.length; ) {
    const [before, rest] = [single.slice(0, at), single.slice(at)];
    const fitting = RULES.filter(
      ([own, , after, own2]) =>
        rest.startsWith(own) &&
        (after === undefined || after.test(rest.slice(own.length))) &&
        (own2 === undefined || own2.test(before)),
    );
    const longest = fitting.reduce<Rule | null>(
      (best, rule) => (rule[0].length > (best?.[0].length ?? 0) ? rule : best),
      null,
    );
    said.push(longest?.[1] ?? "");
    at += longest?.[0].length ?? 1;
  }
  return phonesOf(said);
}

const phonesOf = (parts: readonly string[]): readonly string[] =>
  parts.flatMap((part) => part.split(" ")).filter((phone) => phone !== "");
