import type { Finding } from "../model/finding.ts";
import { decodeVtt, encodingFindings, parseVtt, type VttFile, type VttKind, validateVtt } from "../webvtt/index.ts";

/** A WebVTT file as the standard's parser sees it, and its faults in the order of the file. */
export interface SeenCues {
  readonly file: VttFile;
  readonly problems: readonly Finding[];
}

/** Looks at the bytes of a WebVTT file. @param kind what it is for, which decides what its cues may hold. */
export function seeCues(bytes: Uint8Array, path: string, kind: VttKind = "captions"): SeenCues {
  const decoded = decodeVtt(bytes);
  const file = parseVtt(decoded.text);
  const problems = [...encodingFindings(decoded, path), ...validateVtt(file, kind, path)];
  problems.sort((a, b) => a.at.line - b.at.line || a.at.column - b.at.column);
  return { file, problems };
}
