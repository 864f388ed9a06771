import { basename, dirname, resolve } from "node:path";
import type { LaidEpisode } from "../../record/laid.ts";
import type { SoundChange } from "../../write/soundEdit.ts";
import type { Measured } from "./make.ts";
import { type CutsPlan, type Job, slackOf } from "./plan.ts";

/** A recording that was made and found as it should be. */
export interface Fine {
  readonly job: Job;
  readonly measured: Measured;
  readonly bytes: number;
}

/** What episode.md must say once these recordings take the place of the old ones. */
export function changeFor(plan: CutsPlan, episode: LaidEpisode, fine: readonly Fine[]): SoundChange {
  const cuts = plan.unwanted.filter(({ does }) => does === "cut");
  const silent = plan.unwanted.flatMap(({ does, segment }) =>
    does === "silence" && segment !== null ? [segment] : [],
  );
  const known = new Set(
    episode.segments.flatMap(({ slug, rights }) => (rights?.sound?.is === "silenced" ? [slug] : [])),
  );
  const [first] = fine;
  // A length in whole seconds says little; one to the thousandth is the time map's, and so is what is left of it.
  const left = slackOf(episode) > 0 ? first?.measured.ms : plan.list.result;
  return {
    media: new Map(
      fine.flatMap(({ job: { media, out }, bytes }) =>
        media === null ? [] : [[media, { src: newSrc(episode.media[media]?.src ?? "", out), bytes }] as const],
      ),
    ),
    duration: cuts.length === 0 || left === undefined ? null : Math.round(left),
    cuts: cuts.map(({ from, to, reason }) => ({ from, to, why: reason })),
    silenced: [...new Set(silent)].filter((slug) => !known.has(slug)),
  };
}

/** The address or name under which the new file takes the old one's place. */
function newSrc(src: string, out: string): string {
  if (!src.startsWith("https:")) return basename(out);
  const address = new URL(src);
  address.pathname = address.pathname.replace(/[^/]*$/, () => encodeURIComponent(basename(out)));
  return address.href;
}

/** The recordings that are not made anew, and so still hold what the others no longer have. */
export const leftAsTheyAre = ({ jobs }: CutsPlan, { media }: LaidEpisode): readonly string[] =>
  media.flatMap(({ src }, n) => (jobs.some((job) => job.media === n) ? [] : [src]));

/** Whether all files to be made lie where episode.md can name them. */
export const besideEpisode = (jobs: readonly Job[], folder: string): boolean =>
  jobs.every(({ out }) => resolve(dirname(out)) === resolve(folder));
