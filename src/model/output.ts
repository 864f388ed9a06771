import type { Finding, Place } from "./finding.ts";

/** A file of the site before it is written. `from`: whose content claims the path; null for what every site has. */
export interface Claim {
  readonly path: string;
  readonly from: Place | null;
}

/** Two sources that claim one address: both named. Found before a byte is written. */
export function claimedTwice(claims: readonly Claim[]): readonly Finding[] {
  const owners = new Map<string, Claim>();
  return claims.flatMap((claim) => {
    const first = owners.get(claim.path);
    if (first === undefined) {
      owners.set(claim.path, claim);
      return [];
    }
    const [own, other] = claim.from === null ? [first, claim] : [claim, first];
    return own.from === null ? [] : [taken(claim.path, own.from, other.from)];
  });
}

/** An entered correction keeps its file's name, unless its record says otherwise. */
function renaming(file: string): string {
  const [, episode, id] = /([^/]+)\/corrections\/([^/]+)\.md$/.exec(file) ?? [];
  const entered = `; where it is entered already, run \`afterair publish ${episode} --rename ${id}\``;
  return `Give this file another name${id === undefined ? "" : entered}.`;
}

function taken(path: string, at: Place, other: Place | null): Finding {
  const owner = other === null ? "a page that every site has" : `${other.file}`;
  return {
    rule: "address-taken",
    level: "blocks",
    at,
    seconds: null,
    says: `This would be published at /${path.replace(/index\.html$/, "")}, which belongs to ${owner}.`,
    mend: renaming(at.file),
    ...(other === null ? {} : { see: [other] }),
  };
}
