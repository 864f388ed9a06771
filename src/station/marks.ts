import { decodeHTML } from "entities";
import type { FramedPage } from "./framedPage.ts";

type InParts = Pick<FramedPage, "parts" | "content">;

/** What readers, or the law, need of a page, by the name of the part that has it. */
const NEEDED = ["player", "corrections", "words"] as const;

const OUT_OF_SIGHT = /<!--[\s\S]*?-->|<template\b[\s\S]*?<\/template>/gi;
const VALUE = `(?:"([^"]*)"|'([^']*)'|([^\\s"'>]+))`;
const MARK = new RegExp(`\\s(id|data-[\\w-]+)=${VALUE}`, "gi");
const TRACK = new RegExp(`<track\\b[^>]*?\\ssrc=${VALUE}`, "gi");
const META = /<meta\b[^>]*>/gi;
const CONTENT = new RegExp(`\\scontent=${VALUE}`, "i");

const inSight = (html: string): string => html.replace(OUT_OF_SIGHT, "");
const valueIn = (groups: readonly (string | undefined)[]): string =>
  decodeHTML(groups.find((group) => group !== undefined) ?? "");

/**
 * By what a part is known again however a template, a filter or a plugin writes it: ids (addresses lead to them, notes are
 * tied to them), what the page's script reads, captions. @param text HTML that is in sight.
 */
function marksOf(text: string): ReadonlySet<string> {
  const marks = [...text.matchAll(MARK)].map(([, name = "", ...values]) => `${name.toLowerCase()} ${valueIn(values)}`);
  const tracks = [...text.matchAll(TRACK)].map(([, ...values]) => `track ${valueIn(values)}`);
  return new Set([...marks, ...tracks]);
}

/** The content of a `<meta>` of this kind; null where there is none. @param text HTML that is in sight. */
function metaOf(text: string, kind: RegExp): string | null {
  const found = (text.match(META) ?? []).find((tag) => kind.test(tag));
  const content = found === undefined ? null : CONTENT.exec(found);
  return content === null ? null : valueIn(content.slice(1));
}
const POLICY = /http-equiv=["']?content-security-policy/i;
const ROBOTS = /name=["']?robots/i;

/** Where one of these stands beside our parts, a template may have put a part out of sight or have another policy. */
const MAY_LOSE = /<!--|<template\b|http-equiv|name=["']?robots/i;

/**
 * Whether the head and all of `<main>` stand in a page as they were, and nothing beside them could take any away. Most
 * templates leave them so, and to look for marks in a whole page takes ten times as long.
 */
function isWhole({ parts: { head }, content }: InParts, html: string): boolean {
  const spans = [head, content].map((part) => {
    const start = html.indexOf(part);
    return { start, end: start + part.length };
  });
  if (spans.some(({ start }) => start < 0)) return false;
  const sorted = spans.sort((a, b) => a.start - b.start);
  const beside = [...sorted, { start: html.length, end: html.length }].map(({ start }, n) =>
    html.slice(sorted[n - 1]?.end ?? 0, start),
  );
  return !beside.some((text) => MAY_LOSE.test(text));
}

/**
 * The parts that a page lost on its way through a station's templates, by name: the player with what it steps over, captions,
 * notes of corrections, words with their addresses, and in the head the policy and that a draft is not for search engines.
 */
export function lostParts(page: InParts, html: string): readonly string[] {
  const { parts } = page;
  if (isWhole(page, html)) return [];
  const text = inSight(html);
  const there = marksOf(text);
  const lost = NEEDED.filter((name) => [...marksOf(inSight(parts.main[name] ?? ""))].some((mark) => !there.has(mark)));
  const inHead = [
    ["policy", POLICY],
    ["robots", ROBOTS],
  ] as const;
  return [
    ...lost,
    ...inHead.flatMap(([name, kind]) => {
      const wanted = metaOf(inSight(parts.head), kind);
      return wanted !== null && metaOf(text, kind) !== wanted ? [name] : [];
    }),
  ];
}
