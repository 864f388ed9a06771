import { isDeepStrictEqual } from "node:util";
import { RESERVED_SEGMENT_SLUGS } from "../../model/address.ts";
import { formatClockExact } from "../../model/clock.ts";
import type { DeskOrderEdit } from "../../model/deskOrder.ts";
import type { Segment, Shown } from "../../model/episode.ts";
import { blocks } from "../../model/finding.ts";
import { slugFrom } from "../../model/slugs.ts";
import { parseEpisode } from "../../read/index.ts";
import {
  entriesIn,
  type Fields,
  withEntryAfter,
  withFields,
  withFirstEntries,
  withoutEntryAfter,
} from "../../write/segmentText.ts";
import { cutEdited } from "./cutEdits.ts";
import type { Opened } from "./words.ts";

/** What came of a change: episode.md and what there is to say of it, or why it is not made. */
export type OrderEdited =
  | { readonly is: "made"; readonly file: "episode.md"; readonly text: string; readonly says?: string }
  | { readonly is: "refused"; readonly says: string };

const OPS: ReadonlySet<string> = new Set<DeskOrderEdit["op"]>([
  "title",
  "kind",
  "withhold",
  "rights",
  "caution",
  "edges",
  "splitSegment",
  "joinSegment",
  "cut",
  "moveCut",
  "addCut",
  "dropCut",
]);
export const isOrderEdit = (edit: { readonly op: string }): edit is DeskOrderEdit => OPS.has(edit.op);

/** What a segment is called until somebody says otherwise. */
const NEW = { slug: "new-segment", kind: "reader", title: "New segment" } as const;

/** One change to the running order, in the text of episode.md. Whether the reader takes it is judged by `unreadable`. */
export function orderEdited(opened: Opened, text: string, edit: DeskOrderEdit): OrderEdited {
  if (!("segment" in edit)) {
    const edited = cutEdited(opened, text, edit);
    return edited.is === "refused" ? edited : made(edited.text);
  }
  const n = opened.episode.segments.findIndex(({ slug }) => slug === edit.segment);
  const own = opened.episode.segments[n];
  if (own === undefined) return refused(`There is no segment ${edit.segment}.`);
  switch (edit.op) {
    case "title":
      return titled(opened, text, n, edit.title.replace(/\s+/g, " ").trim());
    case "kind":
      return made(withFields(text, n, { kind: edit.kind }));
    case "withhold":
      return made(withheld(text, n, edit.show));
    case "rights": {
      if (own.rights?.withheld !== true) return refused(`“${own.title}” is not withheld.`);
      const value = edit.value.replace(/\s+/g, " ").trim();
      return made(withFields(text, n, { rights: { [edit.field]: value === "" ? undefined : value } }));
    }
    case "caution": {
      const others = own.cautions.filter((label) => label !== edit.caution);
      const cautions = edit.isOn ? [...others, edit.caution] : others;
      return made(withFields(text, n, { cautions: cautions.length === 0 ? undefined : cautions }));
    }
    case "edges":
      return made(withFields(text, n, { edges: edit.isHeard ? "heard" : undefined }));
    case "splitSegment":
      return parted(opened, text, n, edit.at);
    case "joinSegment":
      return joinedWithNext(opened, text, n);
  }
}

/**
 * Why the reader would not take an episode.md, as a sentence; null: it does. What stood in the way before, such as a faulty
 * correction, is not held against it.
 */
export function unreadable({ sources, programme, episode }: Opened, text: string): string | null {
  if (sources.episode === null) return `${episode.id} has no episode.md.`;
  const read = (own: typeof sources) => parseEpisode(own, programme.timezone, programme.mediaHosts);
  const before = new Set(read(sources).findings.map(({ rule, says }) => rule + says));
  const { findings } = read({ ...sources, episode: { ...sources.episode, bytes: Buffer.from(text) } });
  const first = findings.find((finding) => blocks(finding) && !before.has(finding.rule + finding.says));
  return first === undefined ? null : `${first.says} ${first.mend}`;
}

const refused = (says: string): OrderEdited => ({ is: "refused", says });

/** @param text null: the file is written in a way that can't be changed piece by piece. */
const made = (text: string | null, says?: string): OrderEdited =>
  text === null
    ? refused("The running order is written in a way that can't be changed here: change it in episode.md.")
    : { is: "made", file: "episode.md", text, ...(says === undefined ? {} : { says }) };

/** A title; a new segment's first one makes its address. */
function titled({ episode: { segments } }: Opened, text: string, n: number, title: string): OrderEdited {
  const old = segments[n]?.slug ?? "";
  const wanted = isNew(old) ? slugFrom(title) : "";
  if (wanted === "") return made(withFields(text, n, { title }));
  const slug = freeSlug(
    segments.filter((_, k) => k !== n),
    wanted,
  );
  return made(withFields(text, n, { slug, title }), `Its address ends in ${slug}.`);
}

const isNew = (slug: string): boolean => new RegExp(`^${NEW.slug}(?:-\\d+)?$`).test(slug);

function withheld(text: string, n: number, show: Shown | null): string | null {
  const entry = entriesIn(text)[n] ?? {};
  if (show !== null) return withFields(text, n, { rights: { withheld: true, show } });
  const { rights } = entry;
  if (typeof rights !== "object" || rights === null) return text;
  // Who holds the rights, and until when, is still worth knowing.
  const isAlone = Object.keys(rights).every((key) => key === "withheld" || key === "show");
  const without = isAlone ? withFields(text, n, { rights: undefined }) : null;
  return without ?? withFields(text, n, { rights: { withheld: false } });
}

/** What is decided about a stretch of sound holds for both parts of it: to leave it out would be to publish. */
const CARRIED = ["rights", "cautions"] as const;

function parted({ episode }: Opened, text: string, n: number, moment: number): OrderEdited {
  const own = episode.segments[n];
  const at = Math.round(moment);
  if (own === undefined || at <= own.in || at >= own.out)
    return refused(`That moment is not inside “${own?.title}”: it runs from ${clock(own?.in)} to ${clock(own?.out)}.`);
  const entries = entriesIn(text);
  const entry = entries[n];
  const slug = freeSlug(episode.segments, NEW.slug);
  const added: Fields = {
    ...NEW,
    slug,
    in: clock(at),
    ...(entry?.out === undefined ? {} : { out: entry.out }),
    ...Object.fromEntries(CARRIED.flatMap((key) => (entry?.[key] === undefined ? [] : [[key, entry[key]]]))),
  };
  const says = `“${NEW.title}” begins at ${clock(at)}: give it its title and kind.`;
  if (entry === undefined) {
    const { slug: whole, kind, title } = own;
    return made(withFirstEntries(text, [{ slug: whole, kind, title, in: clock(own.in) }, added]), says);
  }
  const fields = {
    ...(entry.out === undefined ? {} : { out: clock(at) }),
    // Nobody has listened to the words at the new edge for this.
    ...(entry.edges === undefined ? {} : { edges: undefined }),
  };
  return made(withEntryAfter(text, n, fields, added), says);
}

const clock = (ms: number | undefined): string => formatClockExact(ms ?? 0);

/** A slug that no segment has: this one, or this one with a number. */
function freeSlug(segments: readonly Segment[], wanted: string): string {
  const taken = new Set([...segments.map(({ slug }) => slug), ...RESERVED_SEGMENT_SLUGS]);
  for (let n = 1; ; n++) {
    const slug = n === 1 ? wanted : `${wanted}-${n}`;
    if (!taken.has(slug)) return slug;
  }
}

function joinedWithNext({ episode }: Opened, text: string, n: number): OrderEdited {
  const [own, next] = [episode.segments[n], episode.segments[n + 1]];
  const entries = entriesIn(text);
  const [entry, other] = [entries[n], entries[n + 1]];
  if (own === undefined || next === undefined) return refused("There is no segment after this one.");
  if (entry === undefined || other === undefined) return made(null);
  if (!isDeepStrictEqual(entry.rights, other.rights))
    return refused(`“${own.title}” and “${next.title}” have not the same rights: make those the same first.`);
  const planned = (own.planned ?? 0) + (next.planned ?? 0);
  const cautions = [...new Set([...own.cautions, ...next.cautions])];
  const isHeard = own.edgesHeard === true && next.edgesHeard === true;
  const kept = (["by", "topics", "places"] as const).flatMap((key) => {
    const all = [...new Set([...own[key], ...next[key]])];
    return all.length === own[key].length ? [] : [[key, all] as const];
  });
  const fields: Fields = {
    ...(own.summary === null && next.summary !== null ? { summary: next.summary } : {}),
    ...(entry.out === other.out ? {} : { out: other.out }),
    ...(next.planned === null ? {} : { planned: clock(planned) }),
    ...(cautions.length === own.cautions.length ? {} : { cautions }),
    ...(entry.edges === undefined || isHeard ? {} : { edges: undefined }),
  };
  const told = own.summary === null || next.summary === null ? "" : ` Its summary is gone: “${next.summary}”`;
  const says = `“${next.title}” is part of “${own.title}” now.${told}`;
  const whole = withoutEntryAfter(text, n, { ...fields, ...Object.fromEntries(kept) });
  if (whole !== null) return made(whole, says);
  // A list over several lines is not added to.
  const lost = kept.map(([key]) => key).join(", ");
  return made(withoutEntryAfter(text, n, fields), `${says} Taken out with its entry: ${lost}.`);
}
