/**
 * What a correction does, which is how it is read, laid, given and shown:
 * - `adds-note`: the words stand, and a note stands beside them.
 * - `replaces-words`: words of the transcript, or the name of their speaker, become others.
 * - `replaces-field`: a title, summary, credit, in or out point becomes another.
 * - `takes-away`: a segment, or the episode, goes; the note stays.
 */
export type Effect = "adds-note" | "replaces-words" | "replaces-field" | "takes-away";

/** All that is known of one kind of correction. Sentences end with a full stop; what stands within a line has none. */
interface KindRow {
  readonly does: Effect;
  /** On pages, at the beginning of a line. */
  readonly name: string;
  /** At a segment's head: what was done on a day, and what the link to the note is called. */
  readonly done: string;
  readonly noteName: string;
  /** For readers, in the key of the corrections page. */
  readonly meaning: string;
  /** For editors, in the schema that completes a file. */
  readonly inSchema: string;
  /** For whoever chooses a kind in `afterair correct`. */
  readonly hint: string;
  /** Why a key that only other kinds have is refused. */
  readonly whyNot: string;
  /** Its sign, on a ground of 24 by 24: a path that is drawn, and one that is filled. */
  readonly glyph: { readonly drawn: string; readonly filled?: string };
}

/** The kinds of correction, in the order in which they are listed. Their underlines are in `templates/style`. */
const KINDS = {
  "on-air": {
    does: "adds-note",
    name: "On-air error",
    done: "Corrected",
    noteName: "on-air error",
    meaning: "The programme said it wrong. The words stand, because a transcript says what was said.",
    inSchema: "The programme said it wrong: the words stand, with a note beside them.",
    hint: "the programme said it wrong; the words stand, with a note beside them",
    whyNot: "the words of a broadcast stand as they were said, with a note beside them.",
    glyph: { drawn: "M3 8.5h18", filled: "M5 14.5h2.6v2.6H5zM10.7 14.5h2.6v2.6h-2.6zM16.4 14.5h2.6v2.6h-2.6z" },
  },
  transcript: {
    does: "replaces-words",
    name: "Transcript error",
    done: "Corrected",
    noteName: "transcript error",
    meaning: "We wrote down the wrong words. They are replaced, and what stood there is kept.",
    inSchema: "The transcript has the wrong words: they are replaced, and shown as they were.",
    hint: "we wrote down the wrong words or speaker; they are replaced",
    whyNot: "a transcript correction replaces words, and nothing else.",
    glyph: { drawn: "M3 12h18M16.5 4 7.5 20" },
  },
  page: {
    does: "replaces-field",
    name: "Page error",
    done: "Corrected",
    noteName: "page error",
    meaning: "A title, summary, name or time on a page was wrong and has been replaced.",
    inSchema: "A title, summary, credit, in or out point was wrong.",
    hint: "a title, summary, credit or time on the page is wrong",
    whyNot: "a page correction replaces one field of the page.",
    glyph: { drawn: "M6 3.5h12v17H6zM15.5 8l-7 8" },
  },
  clarification: {
    does: "adds-note",
    name: "Clarification",
    done: "Added",
    noteName: "clarification",
    meaning: "The words were not wrong, but needed more beside them.",
    inSchema: "A note that makes something clearer.",
    hint: "nothing is wrong, but more must be said",
    whyNot: "a clarification adds a note and changes no words.",
    glyph: { drawn: "M4.5 19 12 6l7.5 13" },
  },
  update: {
    does: "adds-note",
    name: "Update",
    done: "Added",
    noteName: "update",
    meaning: "Something has happened since, and is added.",
    inSchema: "A note on what happened since.",
    hint: "things have changed since",
    whyNot: "an update adds a note and changes no words.",
    glyph: { drawn: "M4.5 13 12 3l7.5 10M4.5 21.5 12 11.5l7.5 10" },
  },
  withdrawal: {
    does: "takes-away",
    name: "Withdrawal",
    done: "Withdrawn",
    noteName: "the note on it",
    meaning: "A segment or an episode is taken away. The note stays.",
    inSchema: "A segment or the episode is taken away.",
    hint: "a segment, or the episode, is taken away",
    whyNot: "a withdrawal takes away a whole segment or episode.",
    glyph: { drawn: "M2.5 11.5H14c4.8 0 6.6-6.5 2.7-6.5-4.4 0-4.9 8.5-2 15" },
  },
} as const satisfies Readonly<Record<string, KindRow>>;

export type CorrectionKind = keyof typeof KINDS;
/** The kinds that have an effect. */
export type KindThat<E extends Effect> = {
  [K in CorrectionKind]: (typeof KINDS)[K]["does"] extends E ? K : never;
}[CorrectionKind];

export const CORRECTION_KINDS = Object.keys(KINDS) as readonly CorrectionKind[];
export const kindsThat = (effect: Effect): readonly CorrectionKind[] =>
  CORRECTION_KINDS.filter((kind) => KINDS[kind].does === effect);

export const correctionKind = (kind: CorrectionKind): KindRow => KINDS[kind];
export const correctionKindName = (kind: CorrectionKind): string => KINDS[kind].name;

/** Whether a kind has an effect. null: not known yet, so it has none. */
export const kindDoes = <E extends Effect>(kind: CorrectionKind | null, effect: E): kind is KindThat<E> =>
  kind !== null && KINDS[kind].does === effect;

interface OfKind {
  readonly kind: CorrectionKind;
}
export const does = <C extends OfKind, E extends Effect>(
  correction: C,
  effect: E,
): correction is C & { readonly kind: KindThat<E> } => kindDoes(correction.kind, effect);

/** Whether something else stands where it was: then what stood there is shown as deleted. */
export const replaces = <C extends OfKind>(
  correction: C,
): correction is C & { readonly kind: KindThat<"replaces-words" | "replaces-field"> } =>
  does(correction, "replaces-words") || does(correction, "replaces-field");
