import { escapeUTF8 } from "entities";
import { create } from "xmlbuilder2";
import type { XMLBuilder } from "xmlbuilder2/lib/interfaces.js";

/** A document to build, and its text when it is done. Characters that XML can't hold become U+FFFD. */
export function xmlDocument(build: (document: XMLBuilder) => void): string {
  const document = create({ version: "1.0", encoding: "UTF-8", invalidCharReplacement: "\uFFFD" });
  build(document);
  return `${document.end({ prettyPrint: true })}\n`;
}

/** Characters outside `Char` of XML 1.0, section 2.2. */
const UNHELD = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

/** A text as it stands in an element. */
export const xmlText = (text: string): string => escapeUTF8(text.replace(UNHELD, "\uFFFD"));
