import type { z } from "zod";
import { RESERVED_PAGE_SLUGS } from "../model/address.ts";
import type { Finding, Read } from "../model/finding.ts";
import { blocks } from "../model/finding.ts";
import { type Programme, type RegisteredName, type TextPage, WATCH_LISTS } from "../model/programme.ts";
import { SLUG } from "../model/slugs.ts";
import { captionFigures } from "./captionFigures.ts";
import type { WatchShape } from "./checkShapes.ts";
import { blocking, findingAt, inOrder } from "./findings.ts";
import { type Front, splitFront } from "./frontMatter.ts";
import { findNearest } from "./nearest.ts";
import { putInShape, valueAt } from "./shapeFindings.ts";
import { NameShape, PageShape, ProgrammeShape, SeveralSlotsShape } from "./shapes.ts";
import { baseName, type Listed, type ProgrammeSources, type Source, stem } from "./source.ts";

/** The programme with its register and pages, and what is wrong with them; null when programme.md itself is faulty. */
export function parseProgramme({ programme, names, textPages, files }: ProgrammeSources): {
  programme: Programme | null;
  findings: readonly Finding[];
} {
  const register = names.map(parseName);
  const pages = textPages.map(parseTextPage);
  const known = register.flatMap((name) => (name.ok ? [name.value] : []));
  const findings = [...register, ...pages].flatMap((read) => [...read.findings]);
  findings.push(...namesTwice(known), ...wrongMisspellings(known));
  if (programme === null) {
    const at = { file: "programme.md", line: 1, column: 1 };
    findings.unshift(
      blocking(
        "programme-missing",
        at,
        "There is no programme.md in the content folder.",
        "Write one, or name the right folder.",
      ),
    );
    return { programme: null, findings: inOrder(findings) };
  }
  const read = parseProgrammeFile(programme, known, files);
  findings.unshift(...read.findings);
  if (!read.ok) return { programme: null, findings: inOrder(findings) };
  const sorted = pages
    .flatMap((page) => (page.ok ? [page.value] : []))
    .sort((a, b) => a.order - b.order || compare(a.slug, b.slug));
  return { programme: { ...read.value, names: known, textPages: sorted }, findings: inOrder(findings) };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

type ProgrammeAlone = Omit<Programme, "names" | "textPages">;

/** programme.md alone, checked against the register and the files beside it. */
export function parseProgrammeFile(
  source: Source,
  names: readonly RegisteredName[],
  files: readonly Listed[],
): Read<ProgrammeAlone> {
  const front = splitFront(source);
  if (!front.ok) return front;
  const shaped = Array.isArray(front.value.data.slot)
    ? putInShape(SeveralSlotsShape, front.value)
    : putInShape(ProgrammeShape, front.value);
  const findings = [
    ...front.findings,
    ...shaped.findings,
    ...posterMissing(front.value, files),
    ...posterWords(front.value),
    ...slotsTwice(front.value),
    ...strangers(front.value, names),
  ];
  if (shaped.value === null || findings.some(blocks)) return { ok: false, findings };
  const { title, language, timezone, url, station = null, reports = null, presenters = [], slot = [] } = shaped.value;
  const { framerate = null, poster, posteralt = "", mediahosts = [] } = shaped.value;
  const { captions, addresses, checks, watch, own, code } = shaped.value;
  const at = { file: source.file, line: 1, column: 1 };
  const value = {
    title,
    station,
    language,
    timezone,
    url,
    slots: [slot].flat().map(({ edition = null, ...one }) => ({ ...one, edition })),
    reports,
    presenters,
    frameRate: framerate,
    poster: poster === undefined ? null : { file: poster, alt: posteralt },
    mediaHosts: mediahosts,
    ...(captions === undefined ? {} : { captions: captionFigures(captions) }),
    ...(addresses === undefined ? {} : { addresses }),
    ...(checks === undefined ? {} : { checks }),
    ...(watch === undefined ? {} : { watch: watchChanges(watch) }),
    ...(own === undefined ? {} : { own }),
    ...(code === undefined ? {} : { code }),
    about: front.value.body,
    at,
  };
  return { ok: true, value, findings };
}

/** The changes to the lists that are given, each with both its halves. */
function watchChanges(watch: z.output<typeof WatchShape>): NonNullable<Programme["watch"]> {
  const given = WATCH_LISTS.flatMap((list) => {
    const change = watch[list];
    return change === undefined ? [] : [[list, { add: change.add ?? [], drop: change.drop ?? [] }] as const];
  });
  return Object.fromEntries(given);
}

function posterMissing(front: Front, files: readonly Listed[]): Finding[] {
  const { poster } = front.data;
  if (typeof poster !== "string" || poster === "" || /[/\\]/.test(poster)) return [];
  if (files.some(({ file }) => file === poster)) return [];
  const near = findNearest(
    poster,
    files.map(({ file }) => file),
  );
  const mend = near === undefined ? "Put the picture beside programme.md." : `Did you mean ${near}?`;
  return [
    blocking("poster-missing", front.placeOf(["poster"]), `There is no file ${poster} beside programme.md.`, mend),
  ];
}

/** A picture without words says nothing to people who can't see it; words without a picture are shown to nobody. */
function posterWords({ data, placeOf }: Front): Finding[] {
  const { poster, posteralt } = data;
  if (poster !== undefined && posteralt === undefined) {
    const says = "The picture has no words for people who can't see it.";
    return [findingAt(placeOf(["poster"]), "warns", "poster-without-words", says, "Say in `posteralt` what it shows.")];
  }
  if (poster !== undefined || posteralt === undefined) return [];
  const says = "`posteralt` says what a picture shows, and there is no `poster`.";
  return [
    findingAt(placeOf(["posteralt"]), "warns", "poster-without-picture", says, "Name the picture, or take it out."),
  ];
}

/** An edition that two slots claim. */
function slotsTwice({ data, placeOf }: Front): Finding[] {
  const editions = Array.isArray(data.slot) ? data.slot.map((slot) => valueAt(slot, ["edition"])) : [];
  return editions.flatMap((edition, n) => {
    const first = editions.indexOf(edition);
    if (typeof edition !== "string" || first === n) return [];
    const at = placeOf(["slot", n, "edition"]);
    const twice = blocking(
      "slot-edition-twice",
      at,
      `Two slots are those of the edition ${edition}.`,
      "Keep one of them.",
    );
    return [{ ...twice, see: [placeOf(["slot", first, "edition"])] }];
  });
}

/** Presenters that the register does not have. */
function strangers(front: Front, names: readonly RegisteredName[]): Finding[] {
  const { presenters } = front.data;
  if (!Array.isArray(presenters)) return [];
  const spelled = names.map(({ name }) => name);
  return presenters.flatMap((presenter: unknown, i) => {
    if (typeof presenter !== "string" || spelled.includes(presenter)) return [];
    const near = findNearest(presenter, spelled);
    const mend =
      near === undefined
        ? "Add a file for the name to names/."
        : `Write ${near}, or add a file for the name to names/.`;
    return [
      findingAt(
        front.placeOf(["presenters", i]),
        "warns",
        "presenter-not-in-register",
        `${presenter} is not in the register.`,
        mend,
      ),
    ];
  });
}

/** An entry of the register. Its slug is the file's name. */
export function parseName(source: Source): Read<RegisteredName> {
  const front = splitFront(source);
  const slug = stem(source.file);
  const named = slugOfFile(source.file, []);
  if (!front.ok) return { ok: false, findings: [...named, ...front.findings] };
  const shaped = putInShape(NameShape, front.value);
  const findings = [...named, ...front.findings, ...shaped.findings];
  if (shaped.value === null || findings.some(blocks)) return { ok: false, findings };
  const { name, kind, role = null, say = null, misspelt = [] } = shaped.value;
  const at = front.value.placeOf(["name"]);
  return { ok: true, value: { slug, name, kind, role, say, misspelt, about: front.value.body, at }, findings };
}

/** A page written by hand. Its slug is the file's name. */
export function parseTextPage(source: Source): Read<TextPage> {
  const front = splitFront(source);
  const slug = stem(source.file);
  const named = slugOfFile(source.file, RESERVED_PAGE_SLUGS);
  if (!front.ok) return { ok: false, findings: [...named, ...front.findings] };
  const shaped = putInShape(PageShape, front.value);
  const findings = [...named, ...front.findings, ...shaped.findings];
  const { body, bodyAt } = front.value;
  if (body.trim() === "")
    findings.push(blocking("page-empty", bodyAt, "This page has no words.", "Write them below the front matter."));
  if (shaped.value === null || findings.some(blocks)) return { ok: false, findings };
  const { title, summary, order } = shaped.value;
  const at = { file: source.file, line: 1, column: 1 };
  return { ok: true, value: { slug, title, summary: summary ?? null, order: order ?? 0, body, at }, findings };
}

/** A file whose name becomes an address. */
function slugOfFile(file: string, reserved: readonly string[]): Finding[] {
  const slug = stem(file);
  const at = { file, line: 1, column: 1 };
  if (!SLUG.test(slug)) {
    return [
      blocking(
        "slug-unreadable",
        at,
        `The file name ${baseName(file)} can't become an address.`,
        "Name the file with small letters a to z, digits and single hyphens.",
      ),
    ];
  }
  if (!reserved.includes(slug) && !(reserved.length > 0 && /^\d{4}(-|$)/.test(slug))) return [];
  return [
    blocking("slug-reserved", at, `The site keeps the address /${slug}/ for itself.`, "Give the file another name."),
  ];
}

/** One spelling is one entry; capitals and accents written in two ways make no other name. */
function namesTwice(names: readonly RegisteredName[]): Finding[] {
  const first = new Map<string, RegisteredName>();
  return names.flatMap((entry) => {
    const key = entry.name.normalize("NFC").toLowerCase();
    const earlier = first.get(key);
    first.set(key, earlier ?? entry);
    if (earlier === undefined) return [];
    const says = `${entry.name} is in the register already, in ${earlier.at.file}.`;
    return [{ ...blocking("name-twice", entry.at, says, "Keep one of the two files."), see: [earlier.at] }];
  });
}

/** A misspelling is nobody's right name or part of one, and one name's alone: else right words would be told as wrong ones. */
function wrongMisspellings(names: readonly RegisteredName[]): Finding[] {
  const folded = (text: string) => text.normalize("NFC").toLowerCase().split(/\s+/).join(" ");
  const right = names.map((entry) => ({ entry, words: ` ${folded(entry.name)} ` }));
  const first = new Map<string, RegisteredName>();
  return names.flatMap((entry) =>
    entry.misspelt.flatMap((misspelt): readonly Finding[] => {
      const key = folded(misspelt);
      const spelled = right.find(({ words }) => words.includes(` ${key} `))?.entry;
      const earlier = first.get(key);
      first.set(key, earlier ?? entry);
      const other = spelled ?? earlier;
      if (other === undefined) return [];
      const says =
        spelled === undefined
          ? `“${misspelt}” is among the misspellings already, of ${other.name}.`
          : `“${misspelt}” can be no misspelling of ${entry.name}: it stands in the name ${other.name}.`;
      return [{ ...blocking("misspelling-wrong", entry.at, says, "Take it out of `misspelt`."), see: [other.at] }];
    }),
  );
}
