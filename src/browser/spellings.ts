/** British and American spellings of a word: each rule gives a candidate, which counts only where it was said. */
const RULES: readonly (readonly [RegExp, string])[] = [
  [/([a-z]{2})our(s|ed|ing|ful|ite|able|ist|y)?$/, "$1or$2"],
  [/([a-z]{2})or(s|ed|ing|ful|ite|able|ist|y)?$/, "$1our$2"],
  [/([a-z]{2}[bt])er(s|d)?$/, "$1re$2"],
  [/([a-z]{2}[bt])re(s|d)?$/, "$1er$2"],
  [/([a-z]{2})i[sz](e|es|ed|er|ers|ing|ation|ations)$/, "$1is$2"],
  [/([a-z]{2})i[sz](e|es|ed|er|ers|ing|ation|ations)$/, "$1iz$2"],
  [/([a-z]{2})y[sz](e|es|ed|ing)$/, "$1ys$2"],
  [/([a-z]{2})y[sz](e|es|ed|ing)$/, "$1yz$2"],
  [/([a-z]{2})en[sc]e(s|less)?$/, "$1ence$2"],
  [/([a-z]{2})en[sc]e(s|less)?$/, "$1ense$2"],
  [/([a-z]{2}[aeiou])l(ed|ing|er|ers)$/, "$1ll$2"],
  [/([a-z]{2}[aeiou])ll(ed|ing|er|ers)$/, "$1l$2"],
  [/([a-z]{2}al)og(s)?$/, "$1ogue$2"],
  [/([a-z]{2}al)ogue(s)?$/, "$1og$2"],
];

/** What no rule gives: pairs that are one word. */
const PAIRS = [
  ...["gray grey", "plow plough", "tire tyre", "tires tyres", "curb kerb", "program programme", "programs programmes"],
  ...[
    "check cheque",
    "checks cheques",
    "jewelry jewellery",
    "airplane aeroplane",
    "maneuver manoeuvre",
    "pajamas pyjamas",
  ],
  ...["skeptical sceptical", "mom mum", "aluminum aluminium", "story storey", "license licence", "practice practise"],
  ...["center centre", "fiber fibre", "theater theatre", "mold mould", "draft draught", "percent per-cent"],
].map((pair) => pair.split(" "));

/** The word, and how it is spelled on the other side of the sea. @param word in small letters. */
export function spellingsOf(word: string): readonly string[] {
  const ruled = RULES.flatMap(([pattern, other]) => (pattern.test(word) ? [word.replace(pattern, other)] : []));
  const paired = PAIRS.filter((pair) => pair.includes(word)).flat();
  return [...new Set([word, ...paired, ...ruled])];
}
