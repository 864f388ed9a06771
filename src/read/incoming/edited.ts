import type { Finding } from "../../model/finding.ts";
import { findingAt } from "../findings.ts";
import { findNearest } from "../nearest.ts";
import type { Source } from "../source.ts";
import { decodeForeign } from "./decode.ts";
import { isSurelyName, knownSpeakers, labelAt, unnamedVoice, voiceNamed } from "./labels.ts";

export interface EditedWord {
  readonly text: string;
  readonly voice: string | null;
}

/** What is heard but not said, in square brackets on a line of its own. */
export interface EditedSound {
  readonly text: string;
  /** The word that it stands before; as many as there are words where it stands last. */
  readonly before: number;
}

export interface EditedText {
  readonly words: readonly EditedWord[];
  readonly sounds: readonly EditedSound[];
  readonly findings: readonly Finding[];
}

const SOUND = /^\[([^\]]+)\]$/;
const STAMP = /^\[\d+:\d\d(?::\d\d)?(?:\.\d+)?\]\s*/;

/**
 * The words as an editor corrected them, with `NAME:` before a turn. A turn lasts until the next name, over as many
 * paragraphs as it likes. Times left in the text are passed over.
 * @param encoding what the file was saved as; null: it is found out.
 * @param known names as the register and the transcript spell them; a label takes that spelling, whatever its case.
 */
export function parseEdited(source: Source, known: readonly string[], encoding: string | null = null): EditedText {
  const { text, findings: ofBytes } = decodeForeign(source, encoding);
  const [words, sounds]: [EditedWord[], EditedSound[]] = [[], []];
  const findings: Finding[] = [...ofBytes];
  const speakers = knownSpeakers(known);
  const strangers = new Set<string>();
  let voice: string | null = null;
  text.text.split("\n").forEach((written, n) => {
    const line = written.trim().replace(STAMP, "");
    const sound = SOUND.exec(line)?.[1];
    if (sound !== undefined) {
      sounds.push({ text: sound.trim(), before: words.length });
      return;
    }
    const before = labelAt(line);
    const label = before !== null && isSurelyName(before.name, speakers) ? before : null;
    if (label !== null) {
      voice = voiceNamed(label.name, speakers);
      const isStranger = speakers.spelled(label.name) === null && unnamedVoice(label.name) === null;
      if (isStranger && !strangers.has(voice)) {
        strangers.add(voice);
        findings.push(stranger(voice, known, { file: source.file, line: n + 1, column: 1 }));
      }
    }
    for (const word of line.slice(label?.length ?? 0).split(/\s+/)) if (word !== "") words.push({ text: word, voice });
  });
  if (words.length === 0) {
    const at = { file: source.file, line: 1, column: 1 };
    findings.push(
      findingAt(at, "blocks", "edited-empty", "There are no words in this text.", "Check that it is the right file."),
    );
  }
  return { words, sounds, findings };
}

function stranger(name: string, known: readonly string[], at: Finding["at"]): Finding {
  const near = findNearest(name, known);
  const mend = near === undefined ? "Add the name to names/, or leave it if it is nobody's." : `Did you mean ${near}?`;
  return findingAt(at, "warns", "speaker-not-in-register", `${name} is not in the register.`, mend);
}
