import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { assetPath, NOTICES_PATH } from "../model/address.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import type { AssetPaths } from "../pages/site.ts";
import { readProgrammeSources } from "../read/folder.ts";
import type { parseProgramme } from "../read/programme.ts";
import type { ProgrammeSources } from "../read/source.ts";
import type { ReadStation, Station } from "../station/folder.ts";
import { type Asset, assetOf, readTemplateAssets } from "../write/assets.ts";
import { compiled, digestBelow, programDigest } from "../write/compile.mjs";
import { readKept, writeKept } from "../write/kept.ts";
import { noticesText, readNotices } from "../write/notices.ts";
import { addressOf } from "./ready.mjs";
import type { InputDigests } from "./state.ts";

export const TEMPLATES = fileURLToPath(new URL("../../templates/", import.meta.url));

/** What a build needs before it reads an episode. */
export interface SharedInputs {
  readonly programme: Programme;
  /** The folder of the templates, and what they are compiled to: an address to import. */
  readonly templates: string;
  readonly documents: string;
  readonly inputDigests: InputDigests;
  /** The station's own folder; null where it has none. */
  readonly station: Station | null;
}

/** Our own templates: what a demo's station has beside them is not. */
const OWN_TEMPLATES = ["documents.tsx", "base", "fonts", "pages", "parts", "pictures", "style"];

/**
 * Reads the programme, and digests all that a site depends on beside its episodes. Null where the programme can't be
 * read. @param kept the folder of what is kept between builds: the programme as it was understood is there.
 * @param own the station's own folder, full or from where the command was given; null: as the programme says.
 */
export async function readSharedInputs(
  content: string,
  templates: string,
  kept: string,
  own: string | null,
): Promise<{ readonly sharedInputs: SharedInputs | null; readonly findings: readonly Finding[] }> {
  const { sources, findings: found } = readProgrammeSources(content);
  const program = programDigest();
  const texts = digestOfTexts(sources);
  const { programme, findings: understood } = await understand(sources, [program, texts], kept);
  const findings = [...found, ...understood];
  if (programme === null) return { sharedInputs: null, findings };
  const hash = createHash("sha256").update(JSON.stringify(asPagesSay(programme)));
  const poster = programme.poster === null ? null : join(content, programme.poster.file);
  if (poster !== null && !findings.some(blocks) && existsSync(poster)) hash.update(readFileSync(poster));
  const { station, findings: ofStation } = await readOwnFolder(programme, content, kept, own);
  findings.push(...ofStation);
  const inputDigests = {
    program,
    templates: digestBelow(templates, OWN_TEMPLATES, ""),
    programme: hash.digest("base64url"),
    frame: station?.frameDigest ?? "",
  };
  const [documents = ""] = await compiled([join(templates, "documents.tsx")], program + inputDigests.templates);
  return { sharedInputs: { programme, templates, documents, inputDigests, station }, findings };
}

/** The programme without what no page says: a misspelling is entered in an evening, and would set thirty years of pages anew. */
const asPagesSay = (programme: Programme) => ({
  ...programme,
  names: programme.names.map(({ misspelt: _, ...name }) => name),
});

const NO_STATION: ReadStation = { station: null, findings: [] };

async function readOwnFolder(
  programme: Programme,
  content: string,
  kept: string,
  own: string | null,
): Promise<ReadStation> {
  const name = own ?? programme.own;
  if (name === undefined) return NO_STATION;
  const { stationFolder, readStation } = await import("../station/folder.ts");
  const folder = stationFolder(name, own === null ? content : ".", content);
  if ("folder" in folder) return readStation(folder.folder, kept, () => addressOf("station/eleventy"));
  if (own !== null) throw new UsageError(`--own: ${folder.wrong}`);
  const at = programme.at;
  return {
    station: null,
    findings: [
      {
        rule: "own-folder",
        level: "blocks",
        at,
        seconds: null,
        says: folder.wrong,
        mend: "Correct `own` in programme.md, or take it out.",
      },
    ],
  };
}

function digestOfTexts({ programme, names, textPages }: ProgrammeSources): string {
  const hash = createHash("sha256");
  for (const { file, bytes } of [programme, ...names, ...textPages].filter((source) => source !== null))
    hash.update(`${file}\0${bytes.length}\0`).update(bytes);
  return hash.digest("base64url");
}

type Understood = ReturnType<typeof parseProgramme>;

/** The programme from its texts. To load what reads them takes longer than all else in a build in which nothing changed. */
async function understand(sources: ProgrammeSources, from: readonly string[], kept: string): Promise<Understood> {
  const path = join(kept, "programme");
  const key = [...from, ...sources.files.map(({ file }) => file)].join("\n");
  const known = readKept<{ readonly key: string; readonly understood: Understood }>(path);
  if (known?.key === key) return known.understood;
  const { parseProgramme } = await import("../read/programme.ts");
  const understood = parseProgramme(sources);
  if (!understood.findings.some(blocks)) await writeKept(path, { key, understood });
  return understood;
}

/** What every page loads. Its files are made only where they are asked for. */
export interface Assets {
  readonly paths: AssetPaths;
  readFiles(): Promise<readonly Asset[]>;
}

/** Their paths are kept between builds: they carry digests, and to learn them the scripts must be bundled. */
export async function readAssets(kept: string, { programme, templates, inputDigests }: SharedInputs): Promise<Assets> {
  const path = join(kept, "assets");
  const key = inputDigests.program + inputDigests.templates;
  const known = readKept<{ readonly key: string; readonly paths: AssetPaths }>(path);
  const poster = programme.poster === null ? null : assetPath(programme.poster.file);
  if (known?.key === key) {
    return { paths: { ...known.paths, poster }, readFiles: async () => (await makeAssets(templates, poster)).files };
  }
  const { paths, files } = await makeAssets(templates, poster);
  await writeKept(path, { key, paths });
  return { paths, readFiles: async () => files };
}

async function makeAssets(
  templates: string,
  poster: string | null,
): Promise<{ readonly paths: AssetPaths; readonly files: readonly Asset[] }> {
  const { buildScripts } = await import("../write/scripts.ts");
  const [own, scripts] = await Promise.all([readTemplateAssets(templates), buildScripts()]);
  const notices = noticesText(await readNotices(templates, scripts.packages));
  const player = assetOf("player", ".js", scripts.player);
  const search = assetOf("search", ".js", scripts.search);
  const quote = assetOf("quote", ".js", scripts.quote);
  const counts = assetOf("counts", ".js", scripts.counts);
  const suggest = assetOf("suggest", ".js", scripts.suggest);
  const ours = [player, search, quote, counts, suggest];
  const sheets = [own.style, own.print, own.quote, own.search];
  return {
    files: [...sheets, own.mark, ...own.fonts, ...ours, { path: NOTICES_PATH, content: notices }],
    paths: {
      style: own.style.path,
      print: own.print.path,
      mark: own.mark.path,
      fonts: own.fonts.map((font) => font.path),
      player: player.path,
      search: search.path,
      quote: quote.path,
      counts: counts.path,
      suggest: suggest.path,
      quoteStyle: own.quote.path,
      searchStyle: own.search.path,
      poster,
    },
  };
}
