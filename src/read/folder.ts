import { type Dirent, lstatSync, readdirSync, readFileSync, realpathSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";
import type { Finding, Read } from "../model/finding.ts";
import { MOST_BYTES } from "../model/limits.ts";
import { blocking, putByFinding } from "./findings.ts";
import type { EarlierSources, EpisodeFolder, EpisodeSources, Listed, ProgrammeSources, Source } from "./source.ts";
import { baseName, isCorrectionName, isPassedOver, isPutBy } from "./source.ts";

interface Entry extends Listed {
  readonly name: string;
  readonly isFolder: boolean;
}

interface Entries {
  readonly entries: readonly Entry[];
  readonly findings: readonly Finding[];
}

const fault = (file: string, rule: string, says: string, mend: string): Finding =>
  blocking(rule, { file, line: 1, column: 1 }, says, mend);

/** What stands in a folder of the content, by name, without what nobody wrote. A missing folder is empty. */
function entriesOf(root: string, folder: string): Entries {
  const listing = listed(join(root, folder));
  if (listing === "ENOENT" || listing === "ENOTDIR") return { entries: [], findings: [] };
  if (typeof listing === "string") {
    const says = `This folder can't be listed (${listing}).`;
    return { entries: [], findings: [fault(folder, "folder-unreadable", says, "Let this user read it.")] };
  }
  const inside = realpathSync.native(root);
  const looked = listing
    .filter(({ name }) => !isPassedOver(name))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .map((entry) => lookAt(inside, folder === "" ? entry.name : `${folder}/${entry.name}`, entry));
  return {
    entries: looked.flatMap((found) => (found.ok ? [found.value] : [])),
    findings: looked.flatMap((found) => found.findings),
  };
}

function listed(path: string): readonly Dirent[] | string {
  try {
    return readdirSync(path, { withFileTypes: true });
  } catch (error) {
    return errorCode(error);
  }
}

/** Looks at one entry. A link may lead anywhere inside the content, and nowhere else. */
function lookAt(root: string, file: string, entry: Dirent): Read<Entry> {
  const { name } = entry;
  // A folder's own size and date are of no use to anybody.
  if (entry.isDirectory())
    return { ok: true, value: { file, name, bytes: 0, modified: 0, isFolder: true }, findings: [] };
  const path = join(root, file);
  try {
    let found = lstatSync(path);
    if (found.isSymbolicLink()) {
      const way = relative(root, realpathSync.native(path));
      if (way === ".." || way.startsWith(`..${sep}`) || way === "" || isAbsolutePath(way)) {
        return refuse(
          file,
          "symlink-leaves-content",
          "This link leads out of the content folder.",
          "Put the file itself here.",
        );
      }
      found = statSync(path);
    }
    const { size, mtimeMs } = found;
    const isFolder = found.isDirectory();
    if (!found.isFile() && !isFolder) {
      return refuse(file, "file-not-plain", "This is neither a file nor a folder.", "Put a plain file here.");
    }
    return { ok: true, value: { file, name, bytes: size, modified: mtimeMs, isFolder }, findings: [] };
  } catch (error) {
    const code = errorCode(error);
    return refuse(
      file,
      "file-unreadable",
      `This can't be read (${code}).`,
      "Check that it is there, that a link leads to something, and that this user may read it.",
    );
  }
}

const isAbsolutePath = (way: string): boolean => way.startsWith("/") || /^[A-Za-z]:/.test(way);

function refuse(file: string, rule: string, says: string, mend: string): { ok: false; findings: Finding[] } {
  return { ok: false, findings: [fault(file, rule, says, mend)] };
}

/** The system's name for what went wrong (`ENOENT`); other errors are our own and pass on. */
function errorCode(error: unknown): string {
  if (error instanceof Error && "code" in error && typeof error.code === "string") return error.code;
  throw error;
}

function readSource(root: string, entry: Listed): Read<Source> {
  if (entry.bytes > MOST_BYTES) {
    return refuse(
      entry.file,
      "file-too-large",
      `This text file has ${entry.bytes} bytes; ${MOST_BYTES} are the most.`,
      "Check that it is the right file.",
    );
  }
  try {
    const bytes = new Uint8Array(readFileSync(join(root, entry.file)));
    return { ok: true, value: { file: entry.file, bytes }, findings: [] };
  } catch (error) {
    return refuse(
      entry.file,
      "file-unreadable",
      `This file can't be read (${errorCode(error)}).`,
      "Let this user read it.",
    );
  }
}

/** One of the files that were listed; null where it is not among them, or can't be read. */
export function readText(root: string, files: readonly Listed[], file: string): Source | null {
  const listed = files.find((own) => own.file === file);
  const read = listed === undefined ? null : readSource(root, listed);
  return read?.ok ? read.value : null;
}

function readSources(root: string, entries: readonly Listed[]): { sources: Source[]; findings: Finding[] } {
  const read = entries.map((entry) => readSource(root, entry));
  return {
    sources: read.flatMap((one) => (one.ok ? [one.value] : [])),
    findings: read.flatMap((one) => one.findings),
  };
}

const plainFiles = (entries: readonly Entry[]): Entry[] => entries.filter((entry) => !entry.isFolder);
const markdown = (entries: readonly Entry[]): Entry[] =>
  plainFiles(entries).filter((entry) => entry.name.endsWith(".md"));
const listing = ({ file, bytes, modified }: Entry): Listed => ({ file, bytes, modified });

/** Reads programme.md, the register and the pages; everything else beside programme.md is only looked at. */
export function readProgrammeSources(root: string): { sources: ProgrammeSources; findings: readonly Finding[] } {
  const [top, names, pages] = [entriesOf(root, ""), entriesOf(root, "names"), entriesOf(root, "pages")];
  const own = plainFiles(top.entries).filter((entry) => entry.name === "programme.md");
  const read = [own, markdown(names.entries), markdown(pages.entries)].map((some) => readSources(root, some));
  const [programme, nameFiles, textPages] = read.map(({ sources }) => sources);
  const sources = {
    programme: programme?.[0] ?? null,
    names: nameFiles ?? [],
    textPages: textPages ?? [],
    files: plainFiles(top.entries).map(listing),
  };
  const strays = [
    ...top.entries.filter(isStrayAtTop),
    ...[names, pages].flatMap(({ entries }) => entries.filter(isStrayAmongPages)),
  ];
  const findings = [...[top, names, pages, ...read].flatMap((piece) => piece.findings), ...strays.map(strayFinding)];
  return { sources, findings };
}

const isStrayAtTop = ({ name, isFolder }: Entry): boolean =>
  isFolder ? !["episodes", "names", "pages"].includes(name) : isCorrectionName(name) || isPutBy(name);

const isStrayAmongPages = ({ name, isFolder }: Entry): boolean => isFolder || !name.endsWith(".md");

function strayFinding({ file, name }: Entry): Finding {
  if (isPutBy(name)) return putByFinding(file);
  if (name === "corrections" || isCorrectionName(name)) {
    const mend = "Move it to episodes/<year>/<id>/corrections/ of the episode that it corrects.";
    return fault(file, "correction-misplaced", "Nobody reads corrections that stand here.", mend);
  }
  return {
    ...fault(file, "file-unread", `Nothing reads ${name} here.`, "Take it away, or move it where it belongs."),
    level: "warns",
  };
}

/** The episodes' folders, by name, without looking into them. What stands in their place and is none, is a finding. */
export function listEpisodes(root: string): {
  episodes: readonly EpisodeFolder[];
  findings: readonly Finding[];
} {
  const top = entriesOf(root, "episodes");
  const episodes: EpisodeFolder[] = [];
  const findings: Finding[] = [...top.findings];
  for (const entry of top.entries) {
    const { name: year, file } = entry;
    if (!entry.isFolder || !/^\d{4}$/.test(year)) {
      const mend = "Move it to episodes/<year>/<id>/, as in episodes/2026/2026-10-05/.";
      findings.push(notAnEpisode(entry, "Only folders of years stand in episodes/.", mend));
      continue;
    }
    const inYear = entriesOf(root, file);
    findings.push(...inYear.findings);
    for (const own of inYear.entries) {
      const says = "Only folders of episodes stand in the folder of a year.";
      if (own.isFolder) episodes.push({ id: own.name, year, folder: own.file });
      else findings.push(notAnEpisode(own, says, "Move it into the folder of its episode."));
    }
  }
  return { episodes, findings };
}

const notAnEpisode = ({ file, name, isFolder }: Entry, says: string, mend: string): Finding =>
  !isFolder && isPutBy(name) ? putByFinding(file) : fault(file, "episode-misplaced", says, mend);

/** Looks at an episode's files without opening one: enough to tell whether anything changed. */
export function listEpisodeFiles(
  root: string,
  { folder }: EpisodeFolder,
): { files: readonly Listed[]; findings: readonly Finding[] } {
  const [own, corrections, kept, merged] = ["", "/corrections", `/${AS_PUBLISHED}`, `/${MERGED}`].map((inner) =>
    entriesOf(root, folder + inner),
  );
  const earlier = (kept?.entries ?? []).filter(({ name, isFolder }) => isFolder && /^[1-9]\d*$/.test(name));
  const texts = earlier.map(({ file }) => entriesOf(root, file));
  const listings = [own, corrections, kept, merged, ...texts].filter((listed) => listed !== undefined);
  const known = new Set([
    ...["corrections", AS_PUBLISHED, MERGED].map((name) => `${folder}/${name}`),
    ...earlier.map(({ file }) => file),
  ]);
  const all = listings.flatMap(({ entries }) => entries);
  const strays = all
    .filter(({ isFolder, file }) => isFolder && !known.has(file))
    .map(({ file }) =>
      fault(
        file,
        "file-misplaced",
        "An episode's folder holds no other folders than corrections/, as-published/ and merged/.",
        "Move its files up, or take it away.",
      ),
    );
  return {
    files: plainFiles(all).map(listing),
    findings: [...listings.flatMap(({ findings }) => findings), ...strays],
  };
}

/** Written by the tool alone: texts that were replaced, as they were published. */
const AS_PUBLISHED = "as-published";

/** Written by the tool alone: records of other copies that became part of the episode's. */
const MERGED = "merged";

/** Reads one episode: its texts as bytes, its media by their size alone. */
export function readEpisodeSources(
  root: string,
  episode: EpisodeFolder,
): { sources: EpisodeSources; findings: readonly Finding[] } {
  const { files, findings } = listEpisodeFiles(root, episode);
  const inCorrections = (file: string) => file.startsWith(`${episode.folder}/corrections/`);
  const inMerged = (file: string) => file.startsWith(`${episode.folder}/${MERGED}/`);
  const isText = ({ file }: Listed) => {
    const name = baseName(file);
    if (inCorrections(file)) return name.endsWith(".md");
    if (file.startsWith(`${episode.folder}/${AS_PUBLISHED}/`) && name === "reason.md") return true;
    if (inMerged(file)) return name.endsWith(".jsonl");
    return name === "episode.md" || name === "record.jsonl" || /^transcript(\.[^.]+)?\.vtt$/.test(name);
  };
  const read = readSources(root, files.filter(isText));
  const own = (name: string) => read.sources.find(({ file }) => file === `${episode.folder}/${name}`) ?? null;
  const sources: EpisodeSources = {
    ...episode,
    episode: own("episode.md"),
    transcript: own("transcript.vtt"),
    translations: translationsIn(read.sources, `${episode.folder}/`),
    corrections: read.sources.filter(({ file }) => inCorrections(file)),
    asPublished: earlierOf(read.sources, `${episode.folder}/${AS_PUBLISHED}/`),
    merged: read.sources.filter(({ file }) => inMerged(file)),
    record: own("record.jsonl"),
    files,
  };
  return { sources, findings: [...findings, ...read.findings] };
}

function earlierOf(sources: readonly Source[], kept: string): readonly EarlierSources[] {
  const below = sources.filter(({ file }) => file.startsWith(kept));
  const seqs = [...new Set(below.map(({ file }) => Number(file.slice(kept.length).split("/")[0])))];
  const find = (seq: number, name: string) => below.find(({ file }) => file === `${kept}${seq}/${name}`) ?? null;
  return seqs
    .toSorted((a, b) => a - b)
    .map((seq) => ({
      seq,
      episode: find(seq, "episode.md"),
      transcript: find(seq, "transcript.vtt"),
      translations: translationsIn(below, `${kept}${seq}/`),
      reason: find(seq, "reason.md"),
    }));
}

const translationsIn = (sources: readonly Source[], folder: string): readonly Source[] =>
  sources.filter(({ file }) => file.startsWith(folder) && /^transcript\.[^./]+\.vtt$/.test(file.slice(folder.length)));
