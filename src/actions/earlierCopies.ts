import { existsSync } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { textOf } from "../build/recordFolder.ts";
import { parseChecksums } from "../model/checksums.ts";
import { UsageError } from "../model/usageError.ts";
import type { EarlierCopy, EarlierRecord } from "../record/against.ts";
import { readMark } from "../write/mark.ts";
import { nodeFiles } from "../write/record.ts";
import { committedRecords, removedRecords } from "./git.ts";

/** Who else knows the records of a content folder. */
export interface EarlierCopies {
  /** What they have of an episode. */
  of(id: string): readonly EarlierCopy[];
  /** The episodes that they have as published, each with who says so. */
  readonly published: ReadonlyMap<string, string>;
  /** Those that version control has in its last commit. */
  readonly committed: ReadonlySet<string>;
  /** Those of them that are no copy that somebody named, as they are told of. */
  readonly found: readonly string[];
}

interface Asked {
  readonly content: string;
  /** An earlier site folder, content folder or checksum list. */
  readonly against: string | null;
  /** Where the last site may be. */
  readonly site: string | null;
  /** The programme's; null where it can't be read. */
  readonly programme: { readonly title: string; readonly url: string } | null;
}

/** Looks for copies of the records: the one that was named, the last site, and version control. */
export async function earlierCopies({ content, against, site, programme }: Asked): Promise<EarlierCopies> {
  const copies: { readonly from: string; readonly records: ReadonlyMap<string, EarlierRecord> }[] = [];
  if (against !== null) copies.push({ from: "the earlier copy", records: await readEarlier(against) });
  const found: string[] = [];
  if (site !== null && programme !== null && isSiteOf(site, programme)) {
    copies.push({ from: "the last site", records: await recordsBelow(site) });
    found.push(`the site in ${site}`);
  }
  const committed = await committedRecords(content);
  if (committed.size > 0) {
    copies.push({ from: "the last commit", records: new Map([...committed].map(([id, text]) => [id, { text }])) });
    found.push("version control");
  }
  const removed = (await removedRecords(content)).map((id) => [id, "an earlier commit"] as const);
  return {
    of: (id) =>
      copies.flatMap(({ from, records }) =>
        [records.get(id)].flatMap((own) => own ?? []).map((record) => ({ from, record })),
      ),
    published: new Map([
      ...removed,
      ...copies.toReversed().flatMap(({ from, records }) => [...records.keys()].map((id) => [id, from] as const)),
    ]),
    committed: new Set(committed.keys()),
    found,
  };
}

/** Whether a folder is the site for the public that was built of a programme. */
function isSiteOf(site: string, { title, url }: { readonly title: string; readonly url: string }): boolean {
  const mark = existsSync(site) ? readMark(site) : null;
  return mark !== null && mark.holds === "site" && mark.title === title && mark.url === url;
}

/** The records of an earlier copy, by episode: a built site, a content folder, or a checksum list of a site. */
async function readEarlier(copy: string): Promise<ReadonlyMap<string, EarlierRecord>> {
  const found = await stat(copy).catch(() => null);
  if (found === null) throw new UsageError(`${copy} is not there, or can't be read.`);
  const records = found.isDirectory() ? await recordsBelow(copy) : listedRecords(await readText(copy));
  if (records.size === 0)
    throw new UsageError(
      `${copy} holds no record: neither files <episode>/record.jsonl nor a checksum list that names them.`,
    );
  return records;
}

const RECORD = /(?:^|\/)([^/]+)\/record\.jsonl$/;

function listedRecords(list: string): ReadonlyMap<string, EarlierRecord> {
  const records = new Map<string, EarlierRecord>();
  for (const [path, digest] of parseChecksums(list)) {
    const id = RECORD.exec(path)?.[1];
    if (id !== undefined) records.set(id, { digest });
  }
  return records;
}

async function recordsBelow(folder: string): Promise<ReadonlyMap<string, EarlierRecord>> {
  const records = new Map<string, EarlierRecord>();
  const isSite = !(await readdir(folder)).includes("episodes");
  const roots = isSite
    ? [folder]
    : (await readdir(join(folder, "episodes"))).map((year) => join(folder, "episodes", year));
  for (const root of roots) {
    for (const entry of await readdir(root, { withFileTypes: true })) {
      const bytes = entry.isDirectory() ? await nodeFiles.read(join(root, entry.name, "record.jsonl")) : null;
      if (bytes !== null) records.set(entry.name, { text: textOf({ bytes }) });
    }
  }
  return records;
}

async function readText(path: string): Promise<string> {
  const bytes = await nodeFiles.read(path);
  if (bytes === null) throw new UsageError(`${path} is not there.`);
  return textOf({ bytes });
}
