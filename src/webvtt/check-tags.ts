import { checkReferences } from "./check-references.ts";
import { quote, type Report, tell } from "./report.ts";
import type { StartToken } from "./tokens.ts";

/** The classes of a start tag: each after a full stop, of one character or more, without `&` and `<` (WebVTT §4.2.2). */
export function checkClasses(report: Report, token: StartToken, seconds: number): void {
  const end = token.annotation === null ? token.to - 1 : token.annotationFrom - 1;
  const written = report.file.text.slice(token.from + 1, end);
  const [, ...classes] = written.split(".");
  if (!classes.some((name) => name === "" || /[&<]/.test(name))) return;
  const says = `A class in ${quote(`<${written}>`)} is empty, or holds & or <.`;
  const mark = { line: token.line, column: token.column, seconds };
  tell(report, "tag-class", mark, says, "Write one full stop and a plain word for each class.");
}

/**
 * The annotation of a start tag: `v` and `lang` must have one, on one line, after a space or a tab; no other tag has
 * one, and what stands there is lost (WebVTT §4.2.2).
 */
export function checkAnnotation(report: Report, token: StartToken, seconds: number): void {
  const mark = { line: token.line, column: token.column, seconds };
  const { name, annotation, annotationFrom, to } = token;
  const { text } = report.file;
  const isNamed = name === "v" || name === "lang";
  if (isNamed && (annotation ?? "") === "") {
    const wants = name === "v" ? "the name of the voice: <v Ilse Marrane>" : "a language: <lang cy>";
    tell(report, "annotation-missing", mark, `This <${name}> names nothing.`, `Write ${wants}.`);
  }
  if (annotation === null) return;
  const written = text.slice(annotationFrom, to - 1);
  if (!isNamed && annotation !== "") {
    const says = `Only v and lang take words in their tag: ${quote(annotation)} is lost.`;
    tell(report, "tag-annotation", mark, says, "Take the words out of the tag, or write &lt; for <.");
  } else if (!isNamed || !/[ \t]/.test(text.charAt(annotationFrom - 1)) || /[\r\n]/.test(written)) {
    const says = "White space in this tag is not as it may be.";
    tell(
      report,
      "annotation-shape",
      mark,
      says,
      "Keep the tag on one line, with spaces only before and inside a name.",
    );
  }
  checkReferences(report, annotationFrom, to - 1, token, seconds);
  if (name === "lang" && annotation !== "" && !isLanguageTag(annotation)) {
    const says = `${quote(annotation)} is not shaped like a language tag.`;
    tell(report, "language-tag", mark, says, "Write a BCP 47 tag: en, cy, pt-BR.");
  }
}

const LANGUAGE_TAG = new RegExp(
  [
    "^(?:",
    "(?:[a-z]{2,3}(?:-[a-z]{3}){0,3}|[a-z]{4,8})", // language and extended language
    "(?:-[a-z]{4})?", // script
    "(?:-(?:[a-z]{2}|\\d{3}))?", // region
    "(?:-(?:[a-z\\d]{5,8}|\\d[a-z\\d]{3}))*", // variants
    "(?:-[a-wy-z\\d](?:-[a-z\\d]{2,8})+)*", // extensions
    "(?:-x(?:-[a-z\\d]{1,8})+)?", // private use
    "|x(?:-[a-z\\d]{1,8})+",
    "|en-gb-oed|i-(?:ami|bnn|default|enochian|hak|klingon|lux|mingo|navajo|pwn|tao|tay|tsu)|sgn-(?:be-fr|be-nl|ch-de)",
    ")$",
  ].join(""),
  "i",
);

/** Whether a tag is well-formed (RFC 5646 §2.1); whether its parts are registered is not judged. */
const isLanguageTag = (tag: string): boolean => LANGUAGE_TAG.test(tag);
