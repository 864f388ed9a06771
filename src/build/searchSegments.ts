import { grouped } from "../model/grouped.ts";
import { segmentKindName } from "../model/kinds.ts";
import { textOf } from "../model/ownHtml.ts";
import type { PageContext } from "../pages/site.ts";
import type { EpisodePage, FineStrip, Page, SegmentPage, SegmentView } from "../pages/types.ts";
import type { SearchEdition, SearchEntry, SearchParagraph, SearchSegment, SearchText } from "../search/segment.ts";

/**
 * The search records of an episode with its strip, made from the very pages that show it: what a page doesn't say can't be
 * found. Of what was taken away the note stays, and is found.
 */
export function searchSegments(pages: readonly Page[], strip: FineStrip, context: PageContext): readonly SearchEntry[] {
  const naming = namesIn(context.programme.names.map(({ name }) => name));
  return pages.flatMap((page): readonly SearchEntry[] => {
    if (page.kind === "episode") return page.page.withdrawn ? [] : [editionOf(page.page)];
    return page.kind === "segment" ? [toSearch(page.page, strip, naming)] : [];
  });
}

const editionOf = ({ site, title, standfirst, episodeId, canonical, day }: EpisodePage): SearchEdition => ({
  is: "edition",
  address: new URL(canonical).pathname,
  title,
  summary: standfirst,
  episode: episodeId,
  aired: day.iso,
  language: site.language,
});

/** Which of some names stand in a text. */
function namesIn(names: readonly string[]): (text: string) => readonly string[] {
  const byFirst = grouped(names, (name) => wordsIn(name)[0] ?? "");
  return (text) => {
    const words = wordsIn(text);
    const line = ` ${words.join(" ")} `;
    const near = [...new Set(words)].flatMap((word) => byFirst.get(word) ?? []);
    return near.filter((name) => line.includes(` ${wordsIn(name).join(" ")} `));
  };
}

const wordsIn = (text: string): readonly string[] => text.toLowerCase().match(/[\p{L}\p{M}\p{N}]+/gu) ?? [];

function toSearch(
  page: SegmentPage,
  { runs, studio, others, held }: FineStrip,
  naming: (text: string) => readonly string[],
): SearchSegment {
  const { segment, order, player } = page;
  const item = order.items.findIndex(({ current }) => current);
  const notes = notesOf(segment);
  const paragraphs = paragraphsOf(segment);
  return {
    is: "segment",
    address: segment.href,
    title: segment.title,
    summary: segment.summary,
    kind: segment.kind,
    kindName: segmentKindName(segment.kind),
    episode: page.episodeId,
    aired: page.day.iso,
    position: item,
    language: page.site.language,
    topics: segment.topics.map(({ title }) => title),
    places: segment.places.map(({ title }) => title),
    roles: Object.fromEntries(
      segment.blocks.flatMap((block) =>
        block.is === "turn" && block.speaker?.role ? [[block.speaker.name, block.speaker.role] as const] : [],
      ),
    ),
    paragraphs,
    named: naming([segment.title, segment.summary ?? "", ...paragraphs.map(({ words }) => words)].join(" ")),
    corrections: segment.corrections.map(({ kind, kindName, datedLong, href }) => ({
      kind,
      kindName,
      datedLong,
      href: segment.href + href,
      note: notes.get(href) ?? null,
    })),
    strip: segment.inRecording ? { runs, studio, others, held, in: player.from, out: player.to } : null,
  };
}

const paragraphsOf = ({ blocks }: SegmentView): readonly SearchParagraph[] =>
  blocks.flatMap((block) =>
    block.is === "sound"
      ? []
      : block.paragraphs.map(({ id, cues }) => ({
          id,
          words: cues.map(({ runs }) => runs.map(({ text }) => text).join("")).join(" "),
          speaker: block.speaker?.name ?? null,
        })),
  );

/** The notes that stand on a segment's page, in plain words, by the way to them: `#note-1`. */
function notesOf({ blocks, headNotes }: SegmentView): ReadonlyMap<string, string> {
  const notes = blocks.flatMap((block) => (block.is === "turn" ? block.paragraphs.flatMap(({ notes }) => notes) : []));
  return new Map([...headNotes, ...notes].map(({ id, html }) => [`#${id}`, textOf(html)]));
}

/** The pages written by hand, as the search takes them. */
export function searchTexts(pages: readonly Page[]): readonly SearchText[] {
  return pages.flatMap((page) => {
    if (page.kind !== "text") return [];
    const { here, title, summary, html, site } = page.page;
    const blocks = html.split(/(?=<(?:p|li|h[1-6])[\s>])/).map(textOf);
    return [
      {
        is: "text",
        address: here,
        title,
        summary,
        blocks: blocks.filter((words) => words !== ""),
        language: site.language,
      },
    ];
  });
}
