import { type CorrectionKind, correctionKind } from "../model/correctionKinds.ts";

/** Words that one person said without a break, or what is not given between them. */
export type Quoted =
  | { readonly is: "turn"; readonly speaker: string | null; readonly paragraphs: readonly string[] }
  | { readonly is: "gap"; readonly why: Gap };
export type Gap = "withheld" | "withdrawn";

/** Words of a page, ready to be quoted. */
export interface Quotation {
  readonly parts: readonly Quoted[];
  /** `“Nine sailings”, The Evening Tide, 5 October 2026`. */
  readonly cite: string;
  /** `3:41`; null: no moment of the recording has them. */
  readonly clock: string | null;
  /** `transcript error corrected on 6 October 2026`: of each correction that the words carry. */
  readonly corrections: readonly string[];
  readonly address: string;
}

/** What is said of a correction of quoted words. @param day `6 October 2026`. */
export function correctedOn(kind: CorrectionKind, day: string): string {
  const { noteName, done } = correctionKind(kind);
  return `${noteName} ${done.toLowerCase()} on ${day}`;
}

/** Everybody who is quoted, once each. */
const speakersOf = ({ parts }: Quotation): readonly string[] => [
  ...new Set(parts.flatMap((part) => (part.is === "turn" && part.speaker !== null ? [part.speaker] : []))),
];

/** Whether it must be said at each turn who speaks. */
export const isTalk = ({ parts }: Quotation): boolean =>
  new Set(parts.flatMap((part) => (part.is === "turn" ? [part.speaker] : []))).size > 1;

export const speakerText = (speaker: string | null): string => speaker ?? "Speaker not named";
export const gapText = (why: Gap): string => `[Left out: something that is ${why}]`;

/** Who said it, in which programme, when, where in it, and what was corrected; without the address. */
export function sourceOf(quotation: Quotation): string {
  const { cite, clock, corrections } = quotation;
  const source = [...speakersOf(quotation), cite, ...(clock === null ? [] : [`at ${clock}`])].join(", ");
  return [source, ...corrections.map((text) => text.charAt(0).toUpperCase() + text.slice(1))].join(". ");
}

/** The source and its address: for a list of sources. */
export const citationText = (quotation: Quotation): string => `${sourceOf(quotation)}. ${quotation.address}`;

/** The words with their source. */
export function quotationText(quotation: Quotation): string {
  const talk = isTalk(quotation);
  const parts = quotation.parts.map((part) => {
    if (part.is === "gap") return gapText(part.why);
    // Each paragraph opens the quotation marks again; the last one alone closes them.
    const words = `“${part.paragraphs.join("\n\n“")}”`;
    return talk ? `${speakerText(part.speaker)}: ${words}` : words;
  });
  return [...parts, `${sourceOf(quotation)}.\n${quotation.address}`].join("\n\n");
}
