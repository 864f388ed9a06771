import type { Word } from "../speech.ts";
import type { FigureKind, FigureRole, Line } from "./line.ts";
import { moneyNamed, unitNamed } from "./units.ts";

/** What a number counts. */
export interface Thing {
  readonly kind: FigureKind;
  readonly unit: string;
  readonly per: string | null;
  readonly role: FigureRole;
  /** The word after the figure and its unit; the thing counted is left out. */
  readonly to: number;
}

/** Words that end what can be counted: no noun follows without another number's help. */
const STOPS = new Set(
  (
    "a an the of in on at by to for from with and or but than that which who whose is are was were be been has have had will " +
    "would can could may might must shall should do does did not no if when while where as so because after before since " +
    "until about over under into out up down off it he she they we i you this these those there here his her its their our " +
    "my your per"
  ).split(" "),
);
const NO_PLURAL =
  /^(?:is|was|has|this|ones|as|its|us|yes|plus|less|always|perhaps|does|his|across|thus|news|minus|ours|hers|theirs|.*ss|.*ous)$/;
const IRREGULAR: Readonly<Record<string, string>> = {
  people: "person",
  children: "child",
  men: "man",
  women: "woman",
  lives: "life",
  wives: "wife",
  feet: "foot",
  mice: "mouse",
  teeth: "tooth",
  fish: "fish",
  sheep: "sheep",
  police: "police",
  crew: "crew",
  staff: "staff",
};
const CHANGES = /^(?:more|fewer|less|extra|additional|other|further|another)$/;

/** A noun in the singular, by the plain rules of English; null when the word is no plural. */
export function singularOf(fold: string): string | null {
  if (Object.hasOwn(IRREGULAR, fold)) return IRREGULAR[fold] ?? null;
  if (!/[a-z]{2}s$/.test(fold) || NO_PLURAL.test(fold)) return null;
  if (/ies$/.test(fold) && fold.length > 4) return `${fold.slice(0, -3)}y`;
  if (/(?:ch|sh|x|ss|zz)es$/.test(fold)) return fold.slice(0, -2);
  return fold.slice(0, -1);
}

const closes = (word: Word | undefined): boolean => word === undefined || /[,;:.!?…)]/.test(word.after);

/** What the number in words `from` to before `to` counts; null when nothing can be told. */
export function readThing(line: Line, from: number, to: number, value: number): Thing | null {
  const { folds, words } = line;
  const own = folds[from] ?? "";
  const currency = /^[£$€]/.exec(words[from]?.text ?? "")?.[0];
  const before = folds[from - 1] ?? "";
  const part = folds[to] === "of" && /^(?:the|them|these|those|its|his|her|their|our|us)$/.test(folds[to + 1] ?? "");
  const role: FigureRole = CHANGES.test(before) || CHANGES.test(folds[to] ?? "") ? "change" : part ? "part" : "plain";
  const thing = (kind: FigureKind, unit: string, end: number): Thing => ({
    kind,
    unit,
    per: perAt(line, end),
    role,
    to: end,
  });
  if (currency !== undefined) return thing("money", currency, to);
  if (own.endsWith("%")) return thing("percent", "percent", to);
  const closed = closes(words[to - 1]);
  if (closed && !part) return null;
  if (folds[to] === "percent" || folds[to] === "%") return thing("percent", "percent", to + 1);
  if (folds[to] === "per" && /^cent$/.test(folds[to + 1] ?? "")) return thing("percent", "percent", to + 2);
  const qualified = /^(?:square|cubic|nautical)$/.test(folds[to] ?? "") ? 1 : 0;
  const unit = unitNamed(folds[to + qualified] ?? "");
  if (unit !== undefined) {
    const name = qualified === 1 ? `${folds[to]} ${unit.name}` : unit.name;
    const end = to + qualified + 1;
    const own = thing("measure", name, end);
    // `40 kilos of flour a day`.
    return folds[end] === "of" && own.per === null ? { ...own, per: perAt(line, end + 2) } : own;
  }
  const money = moneyNamed(folds[to] ?? "");
  if (money !== undefined) return thing("money", money, to + 1);
  const noun = nounAfter(line, part ? to + 2 : to, value);
  return noun === null ? null : { ...thing("count", noun.name, to), per: perAt(line, noun.at + 1) };
}

/** The first plural among the next four words; for one, the word that follows. */
function nounAfter({ folds, words }: Line, to: number, value: number): { name: string; at: number } | null {
  for (let at = to; at < to + 4 && at < folds.length; at++) {
    const fold = folds[at] ?? "";
    if (STOPS.has(fold) && !/^(?:her|his)$/.test(fold)) return null;
    const singular = singularOf(fold);
    if (singular !== null) return { name: singular, at };
    if (value === 1 && at === to && /^[a-z]{3,}$/.test(fold)) return { name: fold, at };
    if (closes(words[at])) return null;
  }
  return null;
}

/** `45 crowns each make 900`. */
const EACH_VERB = /^(?:makes?|made|comes?|came|costs?|adds?|would|will)$/;

/** `a week`, `per crate`, `each year` after a quantity: what follows is in the singular. */
function perAt({ folds, words }: Line, at: number): string | null {
  if (closes(words[at - 1]) || closes(words[at]) || !/^(?:an?|per|each|every)$/.test(folds[at] ?? "")) return null;
  const next = folds[at + 1] ?? "";
  if (!/^[a-z]{2,}$/.test(next) || singularOf(next) !== null || STOPS.has(next)) return null;
  if (EACH_VERB.test(next)) return null;
  const unit = unitNamed(next)?.name ?? next;
  const isTime = unitNamed(next)?.dimension === "time";
  const after = words[at + 1];
  return isTime || folds[at] !== "a" || closes(after) || STOPS.has(folds[at + 2] ?? "and") ? unit : null;
}
