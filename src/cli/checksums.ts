import { checksumsPath } from "../model/address.ts";
import { grouped } from "../model/grouped.ts";
import { checksumList } from "../record/checksums.ts";
import { digestsBelow } from "../write/digests.ts";
import type { SiteFolder } from "../write/siteFolder.ts";

/** The list that a file of the site stands in: that of its episode's year, or "site". */
export const partOf = (path: string): string => /^(\d{4})-\d\d-\d\d[^/]*\//.exec(path)?.[1] ?? "site";

/** Writes the checksum lists of a site that is otherwise whole. The lists themselves are in none. */
export async function writeChecksums(folder: SiteFolder): Promise<void> {
  const files = await digestsBelow(folder.path);
  const lists = grouped(files, ({ path }) => partOf(path));
  for (const [part, own] of lists) await folder.write(checksumsPath(part), checksumList(own));
}
