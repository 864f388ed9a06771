/**
 * The characters and codes of CEA-608, line 21 captions. The basic and the special set, the rows and the commands stand in
 * 47 CFR §79.101 too (once §15.119), which is public; the extended sets only in CEA-608. Bytes are without their parity bit.
 */

/** The places of the basic set where it differs from ASCII. */
const BASIC: Readonly<Record<number, string>> = {
  42: "á",
  92: "é",
  94: "í",
  95: "ó",
  96: "ú",
  123: "ç",
  124: "÷",
  125: "Ñ",
  126: "ñ",
  127: "█",
};
/** 0x11 0x30 to 0x3f; the tenth is a transparent blank. */
const SPECIAL = "®°½¿™¢£♪à èâêîôû";
/** 0x12 and 0x13, 0x20 to 0x3f; each takes the place of the character before it. */
const EXTENDED = ["ÁÉÓÚÜü‘¡*’—©℠•“”ÀÂÇÈÊËëÎÏïÔÙùÛ«»", "ÃãÍÌìÒòÕõ{}\\^_|~ÄäÖöß¥¤¦ÅåØø┌┐└┘"] as const;

/** What a pair of bytes says. Channel 1 or 2 of its field. */
export type Code =
  | { readonly is: "text"; readonly text: string }
  | { readonly is: "special" | "extended"; readonly channel: 1 | 2; readonly text: string }
  | { readonly is: "row"; readonly channel: 1 | 2; readonly row: number; readonly column: number }
  | { readonly is: "style"; readonly channel: 1 | 2 }
  | { readonly is: "tab"; readonly channel: 1 | 2; readonly columns: number }
  | { readonly is: "command"; readonly channel: 1 | 2; readonly command: Command };

/** Miscellaneous control codes, 0x14 or 0x15 and 0x20 to 0x2f, by the names of the standard. */
const COMMANDS = [
  "RCL",
  "BS",
  "AOF",
  "AON",
  "DER",
  "RU2",
  "RU3",
  "RU4",
  "FON",
  "RDC",
  "TR",
  "RTD",
  "EDM",
  "CR",
  "ENM",
  "EOC",
] as const;
export type Command = (typeof COMMANDS)[number];

/** The rows of preamble address codes: by the first byte's last three bits, the lower row where 0x20 is set. */
const ROWS: readonly (readonly [number, number])[] = [
  [11, 11],
  [1, 2],
  [3, 4],
  [12, 13],
  [14, 15],
  [5, 6],
  [7, 8],
  [9, 10],
];

/** Reads a pair; null for filling, and for what captions don't use. */
export function codeOf(first: number, second: number): Code | null {
  if (first >= 0x20) return { is: "text", text: basic(first) + basic(second) };
  if (first < 0x10 || second < 0x20) return null;
  const [channel, kind]: [1 | 2, number] = [first < 0x18 ? 1 : 2, first & 0x07];
  if (second >= 0x40) {
    const [upper, lower] = ROWS[kind] ?? [15, 15];
    const column = (second & 0x10) === 0 ? 0 : ((second & 0x0e) >> 1) * 4;
    return { is: "row", channel, row: (second & 0x20) === 0 ? upper : lower, column };
  }
  if (kind === 1 && second < 0x30) return { is: "style", channel };
  if (kind === 1) return { is: "special", channel, text: SPECIAL[second - 0x30] ?? "" };
  if (kind === 2 || kind === 3)
    return { is: "extended", channel, text: EXTENDED[kind === 2 ? 0 : 1][second - 0x20] ?? "" };
  if (kind === 7 && second >= 0x21 && second <= 0x23) return { is: "tab", channel, columns: second - 0x20 };
  const command = kind === 4 || kind === 5 ? COMMANDS[second - 0x20] : undefined;
  return command === undefined ? null : { is: "command", channel, command };
}

const basic = (byte: number): string => (byte < 0x20 ? "" : (BASIC[byte] ?? String.fromCharCode(byte)));

/** Whether a byte has odd parity, as each must (CEA-608). */
export function hasOddParity(byte: number): boolean {
  let ones = 0;
  for (let rest = byte; rest > 0; rest >>= 1) ones += rest & 1;
  return ones % 2 === 1;
}
