import type { Sentence } from "../speech.ts";

/** A line that nobody on air speaks is short. No source. */
const SHORT = 14;

/**
 * Beginnings of words for subtitles, captions and who makes them, in the languages of large film markets, and for who watches
 * a video. Of an English programme they are seldom the words; of another a programme drops the rule or adds its own.
 * Common practice, no source.
 */
const WORK_ABROAD =
  /^(?:sous-titr|untertitel|subtítul|subtitul|sottotitol|legendas?$|legendado|ondertitel|undertext|undertekst|tekstet$|tekstning|napisy|titulky|felirat|altyazı|субтитр|υπότιτλ|字幕|자막|ترجمة|כתוביות|उपशीर्षक)/u;
const VIEWING_ABROAD =
  /^(?:regardé|zuschauen|zusehen|abonnez|abonniert?|abonnieren|suscr[ií]b|inscreva|assistir|iscriv|visione$|просмотр|подпис|subskryb|oglądani|視聴|ご視聴|시청|구독|订阅|訂閱|观看|觀看)/u;
const ABROAD = { work: WORK_ABROAD, viewing: VIEWING_ABROAD } as const;
/** Thanks, wishes and orders that go with a word of viewing: `Gracias por ver el video`. */
const THANKS_ABROAD =
  /^(?:merci|danke?|vielen|gracias|obrigad[oa]|grazie|tack|takk|dank|dziękuj[ęe]|спасибо|děkuj[ie])$/u;
const SEEING_ABROAD = /^(?:ver|vidéo|vídeo|video|mirar|bekijken|kijken|tittade|tittat|titta|oglądanie|guardat[oe])$/u;

/** What only the maker of a video says to who watches it. */
const TO_VIEWERS: readonly RegExp[] = [
  /\b(?:like|subscribe|bell|notification|subscription) (?:button|icon)\b/,
  /\blinks? (?:in|is in|below in) the (?:description|comments)\b/,
  /^(?:please )?(?:leave|write|drop|post) (?:me |us )?(?:a |your )?comments? (?:below|down below|in the comments?)\b/,
  /\b(?:give|gave) (?:this|the|it|my|our)(?: video)? (?:a )?(?:thumbs up|like)\b/,
  /^(?:please |and )?(?:subscribe|like and share|share this video)\b.*\b(?:videos?|channel|more|friends|below)\b/,
  /\b(?:never|don't|not) miss (?:an upload|a video|our next video|my next video)\b/,
  /^(?:if|i hope|we hope) you (?:have )?(?:enjoyed|liked|like|enjoy) (?:this|the|my|our) (?:video|clip)\b/,
  /\bthank (?:you|all)\b.*\b(?:my|our) (?:subscribers|patrons|followers)\b/,
  /^(?:thanks|thank you)(?: all)?(?: so much| very much)? for (?:watching|viewing)\b/,
  /^for more (?:videos?|subtitles|captions)\b/,
];

/** Work on a text in time with a film, as credits say it without a verb of their own. */
const HANDS =
  /^(?:synced|synchroni[sz]ed|timed|timing|encoded|ripped|resynced?|resync|proofread|corrected|translated|translation|subbed|transcribed|captioned)$/;
const HAND_JOINS = /^(?:and|by|the|of|for)$/;
const REPORTED =
  /^(?:is|are|was|were|has|have|had|will|would|says?|said|he|she|it|they|we|i|who|that|which|when|into|court|in|won)$/;

const ADDRESS = /^(?:https?:\/\/|www\.)?(?:[a-z\d-]+\.)+[a-z]{2,}(?:\/\S*)?$/;
/** What people on air say before an address, and film lines don't. */
const TOLD =
  /^(?:our|us|at|on|website|site|page|programme|read|details|write|send|email|apply|book|tickets|you|your|find|information|form|council|government|company|its|their|is|are|was)$/;

/**
 * Whether a sentence has the shape of a line that recognisers put into silence: a credit in another language, words to who
 * watches a video, a bare site address, a sign or year of copyright, hands that worked on subtitles.
 * @param own the host of the programme's own site: its address is no such line.
 */
export function isStockShape(sentence: Sentence, own: string): boolean {
  const { words } = sentence;
  if (words.length === 0 || words.length > SHORT) return false;
  const folds = words.map(({ text }) => text.toLowerCase().normalize("NFC").replaceAll("’", "'"));
  return (
    isAbroad(folds) ||
    TO_VIEWERS.some((pattern) => pattern.test(folds.join(" "))) ||
    isBareAddress(folds, own) ||
    isCopyright(sentence, folds) ||
    isOfHands(sentence, folds)
  );
}

function isAbroad(folds: readonly string[]): boolean {
  // `d'avoir`, `l'abonnez`.
  const bare = folds.map((fold) => fold.replace(/^[a-z]'/, ""));
  const isEnglish = folds.some((fold) => /^(?:the|with|of|is|was|has|opens|said|a)$/.test(fold));
  if (isEnglish) return false;
  if (Object.values(ABROAD).some((pattern) => bare.some((fold) => pattern.test(fold)))) return true;
  return THANKS_ABROAD.test(bare[0] ?? "") && bare.some((fold) => SEEING_ABROAD.test(fold));
}

function isBareAddress(folds: readonly string[], own: string): boolean {
  const address = folds.find((fold) => ADDRESS.test(fold) && /[a-z]{3,}\.[a-z]{2,}/.test(fold));
  if (address === undefined || (own !== "" && address.includes(own))) return false;
  return !folds.some((fold) => TOLD.test(fold));
}

/** `© 2019 Ostwick Media`, `(C) 2012 Ostwick Words`, `2014 Ostwick Media, all rights reserved`. */
function isCopyright({ words }: Sentence, folds: readonly string[]): boolean {
  const [first] = words;
  if (/\ball rights reserved$/.test(folds.join(" "))) return true;
  const piece = first?.cue.pieces[first.piece]?.words ?? "";
  const before = piece.slice(0, first?.offset ?? 0);
  const isSigned = /©\s*$/.test(before) || (/\(\s*$/.test(before) && folds[0] === "c");
  const year = folds.slice(0, 2).some((fold) => /^(?:19|20)\d{2}$/.test(fold));
  return isSigned && year && words.slice(1).some(({ text }) => /^\p{Lu}/u.test(text));
}

/** `Synced and corrected by Ostwick Hand`, `Timing and translation, Ostwick Circle`. */
function isOfHands({ words }: Sentence, folds: readonly string[]): boolean {
  if (!HANDS.test(folds[0] ?? "") || folds.some((fold) => REPORTED.test(fold))) return false;
  const rest = folds.findIndex((fold) => !HANDS.test(fold) && !HAND_JOINS.test(fold));
  if (rest === -1) return false;
  const isBy = folds.slice(0, rest).includes("by") || /^[,:]/.test(words[rest - 1]?.after ?? "");
  return isBy && words.slice(rest).some(({ text }) => /^\p{Lu}/u.test(text));
}
