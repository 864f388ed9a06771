/** Stands between the notes of a segment's corrections where the search keeps them. */
export const NOTE_MARK = "¶";
/** Stands between a name and its misspellings in the file of words that questions are held against: no line has it. */
export const MISSPELT_MARK = "\n";
