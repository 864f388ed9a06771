import { parseRawTranscript } from "../../src/read/incoming/transcript.ts";

/** A raw transcript read from text, or from bytes. */
export const rawFrom = (text: string | Uint8Array, file = "raw.txt") =>
  parseRawTranscript({ file, bytes: typeof text === "string" ? new TextEncoder().encode(text) : text });

export const rulesOf = (findings: readonly { readonly rule: string }[]): string[] => findings.map(({ rule }) => rule);
