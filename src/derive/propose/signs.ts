import type { Scene } from "./scene.ts";

/** What is seen of a sentence in its words that tells who says it. */
export const SIGNS = [
  "asks",
  "says I",
  "says we",
  "says you",
  "says he or she",
  "tells who said",
  "thanks",
  "short",
  "long",
  "names the guest",
  "names another",
  "hands over",
] as const;
export type Sign = (typeof SIGNS)[number];

/** What a sentence leads to. */
export const LEADS_TO = ["an answer", "a report", "another", "nothing"] as const;
export type LeadsTo = (typeof LEADS_TO)[number];

const setOf = (list: string): ReadonlySet<string> => new Set(list.split(" "));
const QUESTION = setOf("what how why who when where which did does do is are was were will would can could has have");
const LINKS = setOf("and so but");
const WORDS: readonly (readonly [Sign, ReadonlySet<string>])[] = [
  ["says I", setOf("i me my mine i'm i've i'd i'll")],
  ["says we", setOf("we us our ours we're we've we'd we'll")],
  ["says you", setOf("you your yours you're you've you'd you'll")],
  ["says he or she", setOf("he she him her his hers he's she's they them their")],
  ["tells who said", setOf("say says said tell tells told ask asks asked explains")],
  ["thanks", setOf("thank thanks")],
];
/** What is said before somebody else speaks. Common practice, no source. */
export const HANDS_OVER = [
  "reports",
  "report",
  "has been",
  "joins me",
  "here is",
  "here's",
  "has the",
  "was there",
  "over to",
  "our reporter",
];
/** A question has so many words at most, where nobody wrote its mark; so few are short, and more than so many long. No source. */
const [LONGEST_QUESTION, SHORT, LONG] = [12, 4, 18] as const;

export const hasOneOf = ({ text }: Scene, phrases: readonly string[]): boolean => {
  const whole = ` ${text.join(" ")} `;
  return phrases.some((phrase) => whole.includes(` ${phrase} `));
};

/** @param who whose names are known */
export function signsOf(
  scene: Scene,
  { presenter, guest }: { readonly presenter: string | null; readonly guest: string | null },
): ReadonlySet<Sign> {
  const { text, names } = scene;
  const signs = new Set<Sign>();
  if (isQuestion(scene)) signs.add("asks");
  for (const [sign, words] of WORDS) if (text.some((word) => words.has(word))) signs.add(sign);
  if (text.length <= SHORT) signs.add("short");
  if (text.length > LONG) signs.add("long");
  for (const name of names) if (name !== presenter) signs.add(name === guest ? "names the guest" : "names another");
  if (hasOneOf(scene, HANDS_OVER)) signs.add("hands over");
  return signs;
}

export function leadsTo(signs: ReadonlySet<Sign>): LeadsTo {
  if (signs.has("asks")) return "an answer";
  if (signs.has("hands over") || signs.has("names the guest")) return "a report";
  return signs.has("names another") && !signs.has("long") ? "another" : "nothing";
}

function isQuestion({ text, asks }: Scene): boolean {
  if (asks) return true;
  if (text.length > LONGEST_QUESTION) return false;
  const [first = "", second = ""] = text;
  return (
    (first === "tell" && second === "us") ||
    QUESTION.has(LINKS.has(first) ? second : first) ||
    text.slice(-3).includes("what")
  );
}
