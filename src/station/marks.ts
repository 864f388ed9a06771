import { decodeHTML } from "entities";
import type { PageParts } from "../pages/types.ts";

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

/**
 * The parts that a page lost on its way through a station's templates, by name: the player with what it steps over, captions,
 * notes of corrections, words with their addresses, and in the head the policy and that a draft is not for search engines.
 */
export function lostParts(parts: PageParts, html: string): readonly string[] {
  const needed = NEEDED.map((name) => [name, inSight(parts.main[name] ?? "")] as const);
  const text = inSight(html);
  // Most templates leave a part as it is, and looking for its marks takes long.
  const changed = needed.filter(([, part]) => !text.includes(part));
  const there = changed.length === 0 ? null : marksOf(text);
  const lost = changed.flatMap(([name, part]) => ([...marksOf(part)].some((mark) => !there?.has(mark)) ? [name] : []));
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
