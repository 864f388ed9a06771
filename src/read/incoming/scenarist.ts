import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { frameOf, frameToMs } from "../../model/timecode.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { codeOf, hasOddParity } from "./line21.ts";
import { line21Screen, type Shown } from "./line21Screen.ts";
import { asWords, lostWords, type Reading, tidyLines } from "./reading.ts";

export const looksScenarist = (text: string): boolean => /^\s*Scenarist_SCC V\d/i.test(text);

const LINE = /^\s*(\d\d:\d\d:\d\d)([:;.])(\d\d)\s+(.*)$/;
/** Frames a second of SCC. */
const RATE = 29.97;

/**
 * SCC: lines of timecode at 29.97 frames (`;` drop-frame, `:` non-drop) and pairs of CEA-608 bytes in hexadecimal, a pair
 * a frame. No standard; common practice, no source. The words of channel 1 are read; those of channel 2, mostly another
 * language, are kept as notes, unless they are the only ones.
 */
export function parseScenarist({ file, text }: Text): Reading {
  const [unplaced, findings]: [Unplaced[], Finding[]] = [[], []];
  const screens = { 1: line21Screen(), 2: line21Screen() };
  let channel: 1 | 2 = 1;
  let [parity, badLine] = [0, 0];
  text.split("\n").forEach((written, n) => {
    const line = n + 1;
    const at = { file, line, column: 1 };
    if (written.trim() === "" || looksScenarist(written)) return;
    const [, clock = "", mark = "", frames = "", codes = ""] = LINE.exec(written) ?? [];
    const first = clock === "" ? null : frameOf(`${clock}${mark === ":" ? ":" : ";"}${frames}`, RATE);
    const pairs = codes.trim().split(/\s+/);
    if (first === null || pairs.some((pair) => !/^[0-9a-f]{4}$/i.test(pair))) {
      unplaced.push({ text: asWords(written), at });
      findings.push(lostWords(at, "This line has no timecode, or codes that are none."));
      return;
    }
    let before = "";
    pairs.forEach((pair, k) => {
      const [high, low] = [Number.parseInt(pair.slice(0, 2), 16), Number.parseInt(pair.slice(2), 16)];
      if (!hasOddParity(high) || !hasOddParity(low)) {
        parity++;
        badLine ||= line;
      }
      const code = codeOf(high & 0x7f, low & 0x7f);
      // Control codes are sent twice, so that one survives a bad line of the picture: the second says nothing new.
      const isAgain = code !== null && code.is !== "text" && before === pair;
      before = isAgain ? "" : pair;
      if (code === null || isAgain) return;
      if (code.is !== "text") channel = code.channel;
      screens[channel].take(code, { frame: first + k, line });
    });
  });
  if (parity > 0) {
    const says = `${parity} pairs of codes have a wrong parity bit: they were read without it.`;
    findings.push(
      findingAt(
        { file, line: badLine, column: 1 },
        "warns",
        "raw-parity",
        says,
        "Compare the words there with the sound.",
      ),
    );
  }
  const [one, two] = [screens[1].end(), screens[2].end()];
  const [main, other] = one.shown.length > 0 ? [one, two.shown] : [two, []];
  const lose = ({ text: words, line }: Shown, says: string) => {
    const at = { file, line, column: 1 };
    unplaced.push({ text: asWords(words), at });
    findings.push(
      findingAt(at, "warns", "raw-not-shown", says, "They are kept in a note at the head of the transcript."),
    );
  };
  for (const words of other) lose(words, "These words belong to the second caption channel.");
  for (const words of [...one.never, ...two.never]) lose(words, "These words were written, and never shown.");
  return { rawBlocks: main.shown.map((words) => blockOf(words, file)), unplaced, findings };
}

const blockOf = ({ from, to, text, line }: Shown, file: string): RawBlock => ({
  start: frameToMs(from, RATE),
  end: to === null ? null : frameToMs(to, RATE),
  voice: null,
  text: tidyLines(text.split("\n")),
  at: { file, line, column: 1 },
});
