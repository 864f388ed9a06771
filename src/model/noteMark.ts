/** Stands between the notes of a segment's corrections where the search keeps them. */
export const NOTE_MARK = "¶";
