import { create } from "xmlbuilder2";
import type { XMLBuilder } from "xmlbuilder2/lib/interfaces.js";

/** A document to build, and its text when it is done. Characters that XML can't hold become U+FFFD. */
export function xmlDocument(build: (document: XMLBuilder) => void): string {
  const document = create({ version: "1.0", encoding: "UTF-8", invalidCharReplacement: "\uFFFD" });
  build(document);
  return `${document.end({ prettyPrint: true })}\n`;
}
