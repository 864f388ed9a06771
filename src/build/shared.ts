import { createHash } from "node:crypto";
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { checksumsPath, SEARCH_INDEX, SEARCH_WORDS } from "../model/address.ts";
import { checksumList } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import { textPagesOf } from "../pages/home.ts";
import { type PageContext, pageContextOf } from "../pages/site.ts";
import type { Page } from "../pages/types.ts";
import { indexPages } from "../search/indexPage.tsx";
import { wordsFile } from "../search/words.ts";
import type { RanFile } from "../station/run.ts";
import { digestOfFile } from "../write/digests.ts";
import { writeKept } from "../write/kept.ts";
import { searchEngine } from "../write/pagefind.ts";
import type { SiteFolder } from "../write/siteFolder.ts";
import { engineSetup } from "./engineSetup.ts";
import type { Group, Output, PlannedYear } from "./groups.ts";
import type { Workers } from "./jobs.ts";
import { archiveOf, claimsOfOurs, dueTemplates, filesAfter, OWN_GROUP, readsNow, stationAfter } from "./ownPages.ts";
import { planCommon, sharedClaims, sitemapGroup } from "./plan.ts";
import type { Progress } from "./progress.ts";
import { filesIn, isOfContent, notListed, ownWords, scanDigests } from "./scan.ts";
import { searchTexts } from "./searchSegments.ts";
import type { SetResult } from "./setPages.ts";
import type { Assets, SharedInputs } from "./sharedInputs.ts";
import {
  type CommonState,
  type KnownFile,
  type KnownGroup,
  type KnownStation,
  keyOf,
  pagesIn,
  readHeld,
  readListings,
  stateName,
  statePathOf,
} from "./state.ts";
import type { BuiltYear } from "./years.ts";

export interface Common {
  readonly content: string;
  readonly years: readonly BuiltYear[];
  /** Those that have an episode, oldest first. */
  readonly planned: readonly PlannedYear[];
  /** Stories by year. */
  readonly stories: CommonState["stories"];
  readonly known: CommonState | null;
  readonly sharedInputs: SharedInputs;
  readonly assets: Assets;
  readonly folder: SiteFolder;
  readonly progress: Progress;
  readonly workers: Workers;
  /** To be called before the first write. */
  begin(): void;
}

export interface BuiltCommon {
  readonly findings: readonly Finding[];
  /** Where its state is kept. */
  readonly path: string;
  readonly pages: number;
  readonly made: number;
}

/** Brings what all years share up to date: pages that changed are set, and those that are no more are taken away. */
export async function buildCommon(common: Common): Promise<BuiltCommon> {
  const { sharedInputs, assets, known, folder, years, planned, stories } = common;
  const context = pageContextOf(sharedInputs.programme, assets.paths);
  const findings = findClashes(context, planned);
  if (findings.some(blocks)) return { findings, path: "", pages: 0, made: 0 };
  const tiers = years
    .flatMap(({ state }) => Object.entries(state.tiers).flatMap(([name, { isEmpty }]) => (isEmpty ? [] : [name])))
    .sort()
    .reverse();
  const groups = [
    ...planCommon({ context, years: planned, tiers, stories }),
    ...assetGroups(common),
    ...engineGroup(tiers, context),
    ...wordsGroup(tiers, common),
  ];
  const work: Work = { common, groups: {}, due: [], written: [], digests: new Map(), station: null, made: 0 };
  const due: PlannedGroup[] = [];
  for (const group of groups) due.push(...(await planGroup(group, work)));
  const paths = () => Object.values(work.groups).flatMap(({ files }) => files.map(({ path }) => path));
  const ours = new Set(paths());
  const set = await setWaiting(work, context);
  // It is waited for below, after what is written meanwhile.
  set?.made.catch(() => undefined);
  for (const group of due) await writeGroup(group, work);
  const faults = await takeSet(set, ours, work);
  if (faults.length > 0) return { findings: [...findings, ...faults], path: "", pages: 0, made: 0 };
  for (const group of await planGroup(sitemapGroup(paths(), context), work)) await writeGroup(group, work);
  const leaks = leaksIn(work, paths());
  if (leaks.length > 0) return { findings: [...findings, ...leaks], path: "", pages: 0, made: 0 };
  const now = new Set(paths());
  const gone = Object.values(known?.groups ?? {}).flatMap(({ files }) => files.filter(({ path }) => !now.has(path)));
  if (gone.length > 0) common.begin();
  await folder.renew(gone.map(({ path }) => path));
  return { findings, ...(await keep(work, known, stories)), pages: pagesIn([...now]), made: work.made };
}

/**
 * Held words of any year in what was written for all; where more is held of an episode that was on the site before, also
 * in what was not. By right stands there what any episode's listing says: that was looked through when it was made.
 */
function leaksIn({ common, written }: Work, all: readonly string[]): readonly Finding[] {
  const { years, folder, sharedInputs } = common;
  const paths = (years.some(({ holdsMore }) => holdsMore) ? all : written).filter(isOfContent);
  if (paths.length === 0) return [];
  const held = new Map(years.flatMap(({ path }) => Object.entries(readHeld(path))));
  const own = ownWords(sharedInputs.programme, sharedInputs.station?.folder ?? null);
  const listings = years.toReversed().map(({ path, listings: known }) => {
    return () => JSON.stringify(Object.values((known ?? readListings(path)).episodes).map(({ listing }) => listing));
  });
  return scanDigests(filesIn(folder.path, paths), held, (runs) => notListed(runs, listings, own));
}

/** Addresses that two would have. Who claims what is read only where there are any. */
function findClashes(context: PageContext, years: readonly PlannedYear[]): readonly Finding[] {
  const names = years.map(({ facts }) => facts.year);
  const paths = [
    ...sharedClaims(context, names, []).map(({ path }) => path),
    ...years.flatMap(({ claimed }) => claimed),
  ];
  if (new Set(paths).size === paths.length) return [];
  return claimedTwice(
    sharedClaims(
      context,
      names,
      years.flatMap((year) => year.readClaims()),
    ),
  );
}

/** Style, scripts, fonts and pictures. Their names carry their digests, but the poster's. */
function assetGroups({ assets, sharedInputs, content }: Common): readonly Group[] {
  const { inputDigests, programme } = sharedInputs;
  return [
    {
      name: "what pages load",
      key: inputDigests.program + inputDigests.templates,
      make: async () => (await assets.readFiles()).map(({ path, content }) => ({ path, text: () => content })),
    },
    {
      name: "the poster",
      key: inputDigests.programme,
      make: async () =>
        assets.paths.poster === null || programme.poster === null
          ? []
          : [{ path: assets.paths.poster, file: join(content, programme.poster.file) }],
    },
  ];
}

/** What the tiers of the search index are searched with, and the pages written by hand, which are in none of them. */
function engineGroup(tiers: readonly string[], context: PageContext): readonly Group[] {
  if (tiers.length === 0) return [];
  const texts = [...indexPages(searchTexts(textPagesOf(context)))];
  const make = async () => {
    const files = await searchEngine(context.programme.language, texts);
    return files.map(({ path, content }) => ({ path: SEARCH_INDEX + path, text: () => content }));
  };
  return [{ name: "the search engine", key: keyOf(texts), make }];
}

/** What a misspelt question is held against. */
function wordsGroup(tiers: readonly string[], { years, sharedInputs }: Common): readonly Group[] {
  if (tiers.length === 0) return [];
  const words = years.map(({ state }) => state.words);
  const misspelt = sharedInputs.programme.names.map(({ name, misspelt }) => [name, misspelt] as const);
  const make = async () => [{ path: SEARCH_WORDS, text: () => wordsFile(words, new Map(misspelt)) }];
  return [{ name: "the words to suggest", key: keyOf([words, misspelt]), make }];
}

interface Work {
  readonly common: Common;
  readonly groups: Record<string, KnownGroup>;
  /** Pages that are to be set, with the group that they are of. */
  readonly due: { readonly page: Page; readonly group: string }[];
  /** The paths of what was written. */
  readonly written: string[];
  /** Digests of what was made, by path. */
  readonly digests: Map<string, string>;
  station: KnownStation | null;
  made: number;
}

/** A group that something changed of, with what is known of its files. */
interface PlannedGroup {
  readonly name: string;
  readonly key: string;
  readonly outputs: readonly Output[];
  readonly before: ReadonlyMap<string, KnownFile>;
}

/** Plans a group where what it depends on changed; those of its pages that came out otherwise wait to be set together. */
async function planGroup(group: Group, work: Work): Promise<readonly PlannedGroup[]> {
  const { known, sharedInputs } = work.common;
  const { program, templates, programme, frame } = sharedInputs.inputDigests;
  const key = keyOf([group.key, program, templates, programme]);
  const old = isSameFrame(work.common) ? known?.groups[group.name] : undefined;
  if (old?.key === key) {
    work.groups[group.name] = old;
    return [];
  }
  const before = new Map((old?.files ?? []).map((file) => [file.path, file]));
  const outputs = await group.make();
  const files = outputs.map((output): KnownFile => {
    const known = before.get(output.path);
    const own = "page" in output ? keyOf([output.page, frame]) : "";
    if ("page" in output && known?.key !== own) work.due.push({ page: output.page, group: group.name });
    return { path: output.path, key: own, digest: known?.digest ?? "" };
  });
  work.groups[group.name] = { key, files };
  return [{ name: group.name, key, outputs, before }];
}

/** Whether a page that was set before would come out the same now from the same data. What another program kept is not known. */
function isSameFrame({ known, sharedInputs: { inputDigests } }: Common): boolean {
  if (known === null) return false;
  const { templates, frame } = known.inputDigests;
  return templates === inputDigests.templates && frame === inputDigests.frame;
}

type Made = { readonly path: string; readonly key: string } & (
  | { readonly text: string | Uint8Array }
  | { readonly file: string }
);

/** Writes the texts and copies of a group that came out otherwise. */
async function writeGroup({ name, key, outputs, before }: PlannedGroup, work: Work): Promise<void> {
  const { folder, begin, progress, sharedInputs } = work.common;
  const { programme } = sharedInputs.inputDigests;
  const made = outputs.flatMap((output): readonly Made[] => {
    if ("page" in output) return [];
    if ("file" in output) return [{ ...output, key: programme }];
    const text = output.text();
    return [{ path: output.path, text, key: createHash("sha256").update(text).digest("base64url") }];
  });
  if (made.length === 0) return;
  const keys = new Map(made.map((own) => [own.path, own.key]));
  const files = (work.groups[name]?.files ?? []).map((file) => ({ ...file, key: keys.get(file.path) ?? file.key }));
  work.groups[name] = { key, files };
  const changed = made.filter((own) => before.get(own.path)?.key !== own.key);
  if (changed.length === 0) return;
  begin();
  await folder.renew(changed.map(({ path }) => path));
  for (const output of changed) {
    const { path } = output;
    const { digest } = "text" in output ? folder.write(path, output.text) : await folder.copy(path, output.file);
    work.digests.set(path, digest);
    work.written.push(path);
    progress.made(path, pagesIn([path]), `${name} changed`);
  }
}

/** A run of the site engine. */
interface SetFiles {
  readonly made: Promise<SetResult>;
  readonly out: string;
  readonly own: "all" | readonly string[];
  readonly knownStation: KnownStation | null;
}

/**
 * Has the pages that wait set, and with them those of the station's folder that are due, in a run of the site engine that
 * has begun when this comes back; null: nothing is due.
 */
async function setWaiting(work: Work, context: PageContext): Promise<SetFiles | null> {
  const { common, due } = work;
  const { folder, known, sharedInputs, workers, years } = common;
  const { station, documents } = sharedInputs;
  const { site, addresses } = context;
  const before = known?.groups[OWN_GROUP]?.files ?? [];
  const archive = archiveOf(years, addresses);
  const knownStation = isSameFrame(common) ? (known?.station ?? null) : null;
  const own = dueTemplates(knownStation, station, readsNow(archive));
  if (station !== null) work.groups[OWN_GROUP] = { key: "", files: before };
  work.station = station === null ? null : knownStation;
  if (due.length === 0 && own.length === 0) return null;
  const setup = await engineSetup(sharedInputs, folder.kept);
  await rm(setup.out, { recursive: true, force: true });
  const [worker] = workers.get(1);
  if (worker === undefined) throw new Error("There is no process to set pages in.");
  const pages = due.map(({ page }) => page);
  const made = worker.set({ setup, documents, pages, site, addresses, archive, due: own });
  return { made, out: setup.out, own, knownStation };
}

/** Takes into the site what was set. @param ours the paths of all other files that all years share. @returns what was found. */
async function takeSet(set: SetFiles | null, ours: ReadonlySet<string>, work: Work): Promise<readonly Finding[]> {
  if (set === null) return [];
  const { out, own, knownStation } = set;
  const { ran, findings } = await set.made;
  if (ran === null || findings.length > 0) return findings;
  const { common, due } = work;
  const { station } = common.sharedInputs;
  const before = common.known?.groups[OWN_GROUP]?.files ?? [];
  const groupOf = new Map(due.map(({ page, group }) => [page.path, group] as const));
  const ofStation = ran.files.filter(({ path, by }) => !groupOf.has(path) && (own === "all" || by !== null));
  const copied = ran.files.filter(({ path, isCopied }) => isCopied && groupOf.has(path));
  const claims = station === null ? [] : claimsOfOurs([...ofStation, ...copied], ours, station);
  if (claims.length > 0) return claims;
  const files = [...ran.files.filter(({ path }) => groupOf.has(path)), ...ofStation];
  await takeIn(files, ({ path }) => groupOf.get(path) ?? OWN_GROUP, work);
  await rm(out, { recursive: true, force: true });
  if (station === null) return [];
  const made = ofStation.map(
    ({ path, by }): KnownFile => ({ path, key: by ?? "", digest: work.digests.get(path) ?? "" }),
  );
  work.groups[OWN_GROUP] = { key: "", files: filesAfter(before, made, own) };
  work.station = stationAfter(knownStation, station, ran, own);
  return [];
}

/** Takes files of a run into the site, where they are other than they were. */
async function takeIn(files: readonly RanFile[], groupOf: (file: RanFile) => string, work: Work): Promise<void> {
  const { folder, begin, progress, known } = work.common;
  const before = new Map(
    Object.values(known?.groups ?? {}).flatMap((group) =>
      group.files.map(({ path, digest }) => [path, digest] as const),
    ),
  );
  const digests = await Promise.all(files.map(async (file) => ({ file, digest: await digestOfFile(file.from) })));
  for (const { file, digest } of digests) work.digests.set(file.path, digest);
  const changed = digests.filter(({ file, digest }) => before.get(file.path) !== digest).map(({ file }) => file);
  if (changed.length === 0) return;
  begin();
  await folder.renew(changed.map(({ path }) => path));
  for (const file of changed) {
    const { path, from } = file;
    await folder.copy(path, from);
    work.written.push(path);
    const count = pagesIn([path]);
    work.made += count;
    progress.made(path, count, `${groupOf(file)} changed`);
  }
}

/** Writes the checksum list of what all years share, where it is another, and keeps the state. */
async function keep(
  { common, groups: made, digests, station }: Work,
  known: CommonState | null,
  stories: CommonState["stories"],
): Promise<{ readonly path: string }> {
  const { folder, sharedInputs } = common;
  const groups = Object.fromEntries(
    Object.entries(made).map(([name, group]) => {
      const now = group.files.map((file) => ({ ...file, digest: digests.get(file.path) ?? file.digest }));
      return [name, { ...group, files: now }];
    }),
  );
  const files = Object.values(groups).flatMap((group) => group.files);
  const list = checksumList(files);
  const path = statePathOf(folder.kept, stateName("site", list));
  const before = Object.values(known?.groups ?? {}).flatMap((group) => group.files);
  if (known === null || checksumList(before) !== list) {
    common.begin();
    await folder.renew([checksumsPath("site")]);
    folder.write(checksumsPath("site"), list);
  }
  await writeKept(path, { inputDigests: sharedInputs.inputDigests, groups, station, stories } satisfies CommonState);
  return { path };
}
