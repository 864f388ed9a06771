import { createHash } from "node:crypto";
import { join } from "node:path";
import { checksumsPath, SEARCH_INDEX } from "../model/address.ts";
import { checksumList } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import { type PageContext, pageContextOf } from "../pages/site.ts";
import type { Page } from "../pages/types.ts";
import { writeKept } from "../write/kept.ts";
import { writePages } from "../write/pages.ts";
import type { SiteFolder } from "../write/siteFolder.ts";
import { type Group, type Output, type PlannedYear, planCommon, sharedClaims, sitemapGroup } from "./plan.ts";
import type { Progress } from "./progress.ts";
import { filesIn, isOfContent, notListed, ownWords, scanDigests } from "./scan.ts";
import type { Assets, SharedInputs } from "./sharedInputs.ts";
import {
  type CommonState,
  type KnownFile,
  type KnownGroup,
  keyOf,
  pagesIn,
  readHeld,
  readListings,
  stateName,
  statePathOf,
} from "./state.ts";
import { type BuiltYear, inAirOrder } from "./years.ts";

export interface Common {
  readonly content: string;
  readonly years: readonly BuiltYear[];
  readonly known: CommonState | null;
  readonly sharedInputs: SharedInputs;
  readonly assets: Assets;
  readonly folder: SiteFolder;
  readonly progress: Progress;
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
  const { sharedInputs, assets, known, folder, years } = common;
  const context = pageContextOf(sharedInputs.programme, assets.paths);
  const planned = years.map(plannedYear).filter(({ facts }) => facts.episodes > 0);
  const findings = findClashes(context, planned);
  if (findings.some(blocks)) return { findings, path: "", pages: 0, made: 0 };
  const tiers = years
    .flatMap(({ state }) => Object.entries(state.tiers).flatMap(([name, { isEmpty }]) => (isEmpty ? [] : [name])))
    .sort()
    .reverse();
  const groups = [
    ...planCommon({ context, years: planned, tiers }),
    ...assetGroups(common),
    ...engineGroup(tiers, common),
  ];
  const work: Work = { common, groups: {}, written: [], made: 0 };
  for (const group of groups) await makeGroup(group, work);
  const paths = () => Object.values(work.groups).flatMap(({ files }) => files.map(({ path }) => path));
  await makeGroup(sitemapGroup(paths(), context), work);
  const leaks = leaksIn(work, paths());
  if (leaks.length > 0) return { findings: [...findings, ...leaks], path: "", pages: 0, made: 0 };
  const now = new Set(paths());
  const gone = Object.values(known?.groups ?? {}).flatMap(({ files }) => files.filter(({ path }) => !now.has(path)));
  if (gone.length > 0) common.begin();
  await folder.renew(gone.map(({ path }) => path));
  return { findings, ...(await keep(work, known)), pages: pagesIn([...now]), made: work.made };
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
  const own = ownWords(sharedInputs.programme);
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

function plannedYear({ state, path, listings }: BuiltYear): PlannedYear {
  const { facts, corrections, claimed, listed } = state;
  const read = () => inAirOrder(listings ?? readListings(path));
  return {
    facts,
    corrections,
    claimed,
    listed,
    readListings: () => read().map(({ listing }) => listing),
    readClaims: () => read().flatMap(({ claims }) => claims),
  };
}

/** Style, scripts, fonts and pictures. Their names carry their digests, but the poster's. */
function assetGroups({ assets, sharedInputs, content }: Common): readonly Group[] {
  const { inputDigests, programme } = sharedInputs;
  return [
    {
      name: "what pages load",
      key: inputDigests.program + inputDigests.templates,
      make: async () => (await assets.readFiles()).map(({ path, content: text }) => ({ path, text })),
    },
    {
      name: "the poster",
      key: inputDigests.programme,
      make: async () => [{ path: assets.paths.poster, file: join(content, programme.poster) }],
    },
  ];
}

/** What the tiers of the search index are searched with. */
function engineGroup(tiers: readonly string[], { sharedInputs: { programme } }: Common): readonly Group[] {
  if (tiers.length === 0) return [];
  const make = async () => {
    // Loaded here: a build in which none of this changed must not wait for it.
    const { searchEngine } = await import("../write/pagefind.ts");
    const files = await searchEngine(programme.language);
    return files.map(({ path, content }) => ({ path: SEARCH_INDEX + path, text: content }));
  };
  return [{ name: "the search engine", key: "", make }];
}

interface Work {
  readonly common: Common;
  readonly groups: Record<string, KnownGroup>;
  /** The paths of what was written. */
  readonly written: string[];
  made: number;
}

/** Makes a group where what it depends on changed, and of it what came out otherwise. */
async function makeGroup(group: Group, work: Work): Promise<void> {
  const { known, sharedInputs } = work.common;
  const { program, templates, programme } = sharedInputs.inputDigests;
  const isSameTemplates = known?.inputDigests.templates === templates;
  const key = keyOf([group.key, program, templates, programme]);
  const old = isSameTemplates ? known.groups[group.name] : undefined;
  if (old?.key === key) {
    work.groups[group.name] = old;
    return;
  }
  const before = new Map((old?.files ?? []).map((file) => [file.path, file]));
  const outputs = (await group.make()).map((output) => ({ output, key: outputKey(output, programme) }));
  const changed = outputs.filter((own) => before.get(own.output.path)?.key !== own.key);
  const written = changed.length === 0 ? NONE : await write(group.name, changed, work);
  const files = outputs.map(({ output: { path }, key: own }): KnownFile => {
    return { path, key: own, digest: written.get(path) ?? before.get(path)?.digest ?? "" };
  });
  work.groups[group.name] = { key, files };
}

const NONE: ReadonlyMap<string, string> = new Map();

function outputKey(output: Output, programme: string): string {
  if ("page" in output) return keyOf(output.page);
  if ("file" in output) return programme;
  return createHash("sha256").update(output.text).digest("base64url");
}

/** Writes files of a group: at once, because a year's sheet is large. @returns their digests, by path. */
async function write(
  group: string,
  outputs: readonly { readonly output: Output }[],
  work: Work,
): Promise<ReadonlyMap<string, string>> {
  const { folder, begin, progress, sharedInputs } = work.common;
  begin();
  await folder.renew(outputs.map(({ output }) => output.path));
  const pages: readonly Page[] = outputs.flatMap(({ output }) => ("page" in output ? [output.page] : []));
  work.made += pagesIn(pages.map(({ path }) => path));
  const written = pages.length > 0 ? [...(await writePages(pages, sharedInputs.documents, folder))] : [];
  for (const { output } of outputs) {
    const { path } = output;
    if ("text" in output) written.push(folder.write(path, output.text));
    else if ("file" in output) written.push(await folder.copy(path, output.file));
    progress.made(path, pagesIn([path]), `${group} changed`);
  }
  work.written.push(...written.map(({ path }) => path));
  return new Map(written.map(({ path, digest }) => [path, digest]));
}

/** Writes the checksum list of what all years share, where it is another, and keeps the state. */
async function keep({ common, groups }: Work, known: CommonState | null): Promise<{ readonly path: string }> {
  const { folder, sharedInputs } = common;
  const files = Object.values(groups).flatMap((group) => group.files);
  const list = checksumList(files);
  const path = statePathOf(folder.kept, stateName("site", list));
  const before = Object.values(known?.groups ?? {}).flatMap((group) => group.files);
  if (known === null || checksumList(before) !== list) {
    common.begin();
    await folder.renew([checksumsPath("site")]);
    folder.write(checksumsPath("site"), list);
  }
  await writeKept(path, { inputDigests: sharedInputs.inputDigests, groups } satisfies CommonState);
  return { path };
}
