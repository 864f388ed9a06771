/** `npm run bench` measures everything; `npm run bench -- NAME [ARGUMENT…]` one part. Figures are ratios within one run. */

import { NothingMeasured } from "../support/broadcasts.ts";

const BENCHES: Readonly<Record<string, (args: readonly string[]) => Promise<void>>> = {
  webvtt: async () => (await import("./webvtt.ts")).benchWebvtt(),
  captions: async ([folder]) => (await import("./captions.ts")).benchCaptions(folder),
  proposals: async ([folder]) => (await import("./proposals.ts")).benchProposals(folder),
  checks: async ([folder]) => (await import("./checks.ts")).benchChecks(folder),
  doubling: async ([only]) => (await import("./doubling.ts")).benchDoubling(only),
  archive: async (sizes) =>
    (await import("./archive.ts")).benchArchive(...(sizes.length > 0 ? [sizes.map(Number)] : [])),
  known: async (sizes) =>
    (await import("./knownItems.ts")).benchKnownItems(...(sizes.length > 0 ? [sizes.map(Number)] : [])),
  pages: async (sizes) => (await import("./pages.ts")).benchPages(...(sizes.length > 0 ? [sizes.map(Number)] : [])),
  talks: async (folders) => (await import("./talks.ts")).benchTalks(folders),
  counts: async ([episodes]) => (await import("./counts.ts")).benchCounts(...(episodes ? [Number(episodes)] : [])),
  search: async (sets) => (await import("./search.ts")).benchSearch(sets),
  // Last, because it stops where there is nothing to listen to.
  listen: async ([folder, human]) => (await import("./listen.ts")).benchListen(folder, human),
};

/** What measures nothing, and is done only when it is asked for. */
const MAKES: typeof BENCHES = {
  broadcasts: async ([out, ...rest]) => (await import("./broadcasts/make.ts")).makeBroadcasts(out, rest),
};

const [name, ...args] = process.argv.slice(2);
const wanted = name === undefined ? BENCHES : { [name]: BENCHES[name] ?? MAKES[name] };
if (Object.values(wanted).includes(undefined)) {
  console.error(`There is no bench ${name}. There are: ${Object.keys({ ...BENCHES, ...MAKES }).join(", ")}.`);
  process.exitCode = 2;
} else {
  for (const bench of Object.values(wanted)) {
    await bench?.(args).catch((error: unknown) => {
      if (!(error instanceof NothingMeasured)) throw error;
      console.error(error.message);
      process.exitCode = 1;
    });
  }
}
