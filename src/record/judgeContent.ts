import type { Finding, Place } from "../model/finding.ts";
import { type Audited, type KeptFile, placeOf } from "./audited.ts";
import { canonicalJson } from "./canonical.ts";
import { lineEnds } from "./chain.ts";
import { memberChanges, membersSaid, wordChanges, wordsSaid } from "./changes.ts";
import { digestOf } from "./digest.ts";
import { type Entry, publishesText } from "./entry.ts";
import { type Content, fieldsDigest, frozenFields, isAsEntered, isCutFrom } from "./frozen.ts";

const MEND =
  "Put the published text back, and lay a correction over it: `afterair correct`. For a change too large for that: `afterair publish --reissue`.";

/** Whether the frozen files are those that the last entry names, or what is left of them after a withdrawal. */
export function judgeContent(audited: Audited): readonly Finding[] {
  const { input, last } = audited;
  const kept = judgeCopies(audited);
  if (last.withdrawn.some(({ segment }) => segment === null)) return [...judgeEmptied(audited), ...kept];
  if (input.content !== null && isAsEntered(input.content, last)) return kept;
  if (input.content !== null && isCutFrom(input.content, last)) return [cutNotEntered(audited), ...kept];
  return [...judgeTranscript(audited), ...judgeTranslations(audited), ...judgeFields(audited), ...kept];
}

/** Whether content is what an entry names, whole or with the withdrawn words cut out. */
export const holds = (content: Content, entry: Entry): boolean =>
  isAsEntered(content, entry) || isCutFrom(content, entry);

/** Of an episode that is withdrawn whole, a transcript may be as it was entered, empty, or gone. */
function judgeEmptied(audited: Audited): readonly Finding[] {
  const { input, last } = audited;
  const { transcript: file } = input;
  if (file === null || file.digest === last.transcript || !file.text.includes("-->")) return [];
  return [changedFile(audited, file, last.transcript, "The withdrawn transcript was changed, and not emptied.")];
}

function cutNotEntered(audited: Audited): Finding {
  const { input } = audited;
  const at = { file: `${input.folder}/transcript.vtt`, line: 1, column: 1 };
  const says = "Withdrawn words were cut out of the files, and the record does not say so yet.";
  const mend = `Run \`afterair publish ${input.id}\`: it enters the cut, and from then on the files are frozen as they are.`;
  return {
    rule: "cut-not-entered",
    level: "warns",
    at,
    seconds: null,
    says,
    mend,
    see: [placeOf(audited, audited.last)],
  };
}

function judgeTranscript(audited: Audited): readonly Finding[] {
  const { input, last } = audited;
  const file = input.transcript;
  const at = { file: file?.file ?? `${input.folder}/transcript.vtt`, line: 1, column: 1 };
  if (file === null) return [changed(audited, "content-missing", at, "The published transcript is gone.", "")];
  if (file.digest === last.transcript) return [];
  return [changedFile(audited, file, last.transcript, "The transcript is not the one that was published.")];
}

function judgeTranslations(audited: Audited): readonly Finding[] {
  const { input, last } = audited;
  const entered = Object.entries(last.translations).flatMap(([name, digest]) => {
    const file = input.translations.find((own) => own.name === name);
    if (file?.digest === digest) return [];
    const at = { file: `${input.folder}/${name}`, line: 1, column: 1 };
    if (file === undefined) return [changed(audited, "content-missing", at, `The published ${name} is gone.`, "")];
    return [changedFile(audited, file, digest, `${name} is not the one that was published.`)];
  });
  const added = input.translations.filter(({ name }) => last.translations[name] === undefined);
  return [
    ...entered,
    ...added.map(({ file, name }) =>
      changed(audited, "content-changed", { file, line: 1, column: 1 }, `${name} was added after publication.`, ""),
    ),
  ];
}

function judgeFields(audited: Audited): readonly Finding[] {
  const { input, last } = audited;
  const at = { file: `${input.folder}/episode.md`, line: 1, column: 1 };
  if (input.content === null) {
    const says = "The episode can't be read, so its published fields can't be proved unchanged.";
    return [changed(audited, "content-unreadable", at, says, "")];
  }
  const { episode } = input.content;
  if (fieldsDigest(episode) === last.fields) return [];
  const notes = episode.notes.replaceAll("\r\n", "\n");
  if (fieldsDigest({ ...episode, notes }) === last.fields) return [lineEnds({ ...at, file: episode.at.file })];
  const before = input.known.get(last.fields);
  const changes =
    before === undefined ? [] : memberChanges(JSON.parse(before), JSON.parse(canonicalJson(frozenFields(episode))));
  const says = "The fields of the episode are not those that were published.";
  return [changed(audited, "content-changed", { ...at, file: episode.at.file }, says, membersSaid(changes))];
}

/** The texts that were reissued must still be there as they were, unless something of them is withdrawn. */
function judgeCopies(audited: Audited): readonly Finding[] {
  const { input, entries, last } = audited;
  return entries.flatMap((entry, index) => {
    const before = entries[index - 1];
    if (entry.what !== "reissued" || before === undefined) return [];
    const seq = textSeq(entries.slice(0, index));
    const kept = input.asPublished.get(seq);
    const folder = `${input.folder}/as-published/${seq}`;
    const { translations = {} } = kept ?? {};
    const names = [...new Set([...Object.keys(before.translations), ...Object.keys(translations)])].toSorted();
    const texts = [
      ...(kept?.transcript?.digest === before.transcript ? [] : ["transcript.vtt"]),
      ...names.filter((name) => translations[name] !== before.translations[name]),
      ...(kept?.fields === before.fields ? [] : ["episode.md"]),
    ];
    const wrong = [
      ...(kept?.reason?.digest === entry.reason ? [] : ["reason.md"]),
      ...(last.withdrawn.length > 0 ? [] : texts),
    ];
    return wrong.map((name) => {
      const says = `${name} of the text first published as entry ${seq} is gone, was changed, or was never part of it.`;
      return changed(audited, "copy-changed", { file: `${folder}/${name}`, line: 1, column: 1 }, says, "", entry);
    });
  });
}

/** The entry that published the text in force at the end of these entries. */
export const textSeq = (entries: readonly Entry[]): number => entries.findLast(publishesText)?.seq ?? 1;

/** A finding about a file whose earlier text may be known: names the words. */
export function changedFile(audited: Audited, file: KeptFile, was: string, says: string, entry?: Entry): Finding {
  if (digestOf(file.text.replaceAll("\r\n", "\n")) === was) return lineEnds({ file: file.file, line: 1, column: 1 });
  const before = audited.input.known.get(was);
  const changes = before === undefined ? [] : wordChanges(before, file.text);
  const at = { file: file.file, line: changes[0]?.line ?? 1, column: 1 };
  return changed(audited, "content-changed", at, says, wordsSaid(changes), entry);
}

function changed(
  audited: Audited,
  rule: string,
  at: Place,
  what: string,
  words: string,
  entry = audited.last,
): Finding {
  const place = placeOf(audited, entry);
  const says = `${what} See line ${place.line} of its record.${words === "" ? "" : ` ${words}.`}`;
  return { rule, level: "blocks", at, seconds: null, says, mend: MEND, see: [place] };
}
