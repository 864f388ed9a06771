import { decodeHTML } from "entities";
import type { PageParts } from "../pages/types.ts";

/** What readers, or the law, need of a page, by the name of the part that has it. */
const NEEDED = ["player", "corrections", "words"] as const;

const WITHOUT = /<!--[\s\S]*?-->|<template\b[\s\S]*?<\/template>/gi;
const VALUE = `(?:"([^"]*)"|'([^']*)'|([^\\s"'>]+))`;
const MARK = new RegExp(`\\s(id|data-[\\w-]+)=${VALUE}`, "gi");
const TRACK = new RegExp(`<track\\b[^>]*?\\ssrc=${VALUE}`, "gi");
const META = /<meta\b[^>]*>/gi;
const CONTENT = new RegExp(`\\scontent=${VALUE}`, "i");

const valueIn = (groups: readonly (string | undefined)[]): string =>
  decodeHTML(groups.find((group) => group !== undefined) ?? "");

/**
 * By what a part is known again however a template, a filter or a plugin writes it: ids (addresses lead to them, notes are
 * tied to them), what the page's script reads, captions.
 */
function marksOf(html: string): ReadonlySet<string> {
  const text = html.replace(WITHOUT, "");
  const marks = [...text.matchAll(MARK)].map(([, name = "", ...values]) => `${name.toLowerCase()} ${valueIn(values)}`);
  const tracks = [...text.matchAll(TRACK)].map(([, ...values]) => `track ${valueIn(values)}`);
  return new Set([...marks, ...tracks]);
}

/** The content of a `<meta>` of this kind; null where there is none. */
function metaOf(html: string, kind: RegExp): string | null {
  const found = (html.replace(WITHOUT, "").match(META) ?? []).find((tag) => kind.test(tag));
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
  const there = marksOf(html);
  const lost = NEEDED.filter((name) => [...marksOf(parts.main[name] ?? "")].some((mark) => !there.has(mark)));
  const inHead = [
    ["policy", POLICY],
    ["robots", ROBOTS],
  ] as const;
  return [
    ...lost,
    ...inHead.flatMap(([name, kind]) => {
      const wanted = metaOf(parts.head, kind);
      return wanted !== null && metaOf(html, kind) !== wanted ? [name] : [];
    }),
  ];
}
