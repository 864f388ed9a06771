/**
 * Whether anything takes more than twice as long for twice as much: every reader, every check and what is done with an
 * episode's corrections, each with input that grows. What grows faster than `MOST` is told, and ends the bench with 1.
 */

/** Something that is given more and more of one thing. */
export interface Grown {
  /** What grows: `figures that differ`. */
  readonly name: string;
  /** The smallest size that is measured. */
  readonly from: number;
  /** The largest, where a limit is set; else it grows until it takes long enough to be measured. */
  readonly most?: number;
  /** Makes the input of a size, which is not measured, and returns what is: by name, in the order in which they run. */
  make(size: number): Steps;
}
export type Steps = Readonly<Record<string, () => unknown>>;

/** The exponent that is allowed: 1 is in proportion, 2 is its square. Sorting and caches make some more than 1 of it. */
const MOST = 1.3;
/** Sizes grow until all steps together take so long, in milliseconds. A step that takes less than `LEAST` says nothing. */
const ENOUGH = 600;
const TOO_LONG = 15_000;
const LEAST = 40;
/** The exponent is that of so many sizes, each twice the one before. */
const SIZES = 4;
const TIMES = 3;

interface Measured {
  readonly size: number;
  readonly ms: ReadonlyMap<string, number>;
}

/** The processor time of the best of three, so that what else runs on the machine does not count. */
async function timesOf(grown: Grown, size: number): Promise<Measured> {
  const best = new Map<string, number>();
  for (let n = 0; n < TIMES; n++) {
    for (const [name, run] of Object.entries(grown.make(size))) {
      const before = process.cpuUsage();
      await run();
      const { user, system } = process.cpuUsage(before);
      best.set(name, Math.min(best.get(name) ?? Number.POSITIVE_INFINITY, (user + system) / 1000));
    }
    if (sumOf(best) > TOO_LONG / 4) break;
  }
  return { size, ms: best };
}

const sumOf = (ms: ReadonlyMap<string, number>): number => [...ms.values()].reduce((sum, own) => sum + own, 0);

async function measure(grown: Grown): Promise<readonly Measured[]> {
  const measured: Measured[] = [];
  for (let size = grown.from; size <= (grown.most ?? Number.POSITIVE_INFINITY); size *= 2) {
    const one = await timesOf(grown, size);
    measured.push(one);
    const all = sumOf(one.ms);
    if ((all >= ENOUGH && measured.length >= SIZES) || all > TOO_LONG) break;
  }
  return measured.slice(-SIZES);
}

/** The slope of the times over the sizes, both as logarithms, by least squares. */
function exponentOf(measured: readonly Measured[], step: string): number {
  const points = measured.map(({ size, ms }) => ({ x: Math.log(size), y: Math.log(Math.max(ms.get(step) ?? 0, 0.1)) }));
  const x = points.reduce((sum, point) => sum + point.x, 0) / points.length;
  const y = points.reduce((sum, point) => sum + point.y, 0) / points.length;
  const above = points.reduce((sum, point) => sum + (point.x - x) * (point.y - y), 0);
  return above / points.reduce((sum, point) => sum + (point.x - x) ** 2, 0);
}

/** @param only measures what has this in its name. */
export async function benchDoubling(only = ""): Promise<void> {
  const all = await Promise.all([
    import("./doublingReaders.ts").then(({ grownReaders }) => grownReaders()),
    import("./doublingRecord.ts").then(({ grownRecord }) => grownRecord()),
    import("./doublingChecks.ts").then(({ grownChecks }) => grownChecks()),
  ]);
  let over = 0;
  for (const grown of all.flat().filter(({ name }) => name.includes(only))) over += await tell(grown);
  console.log(`${over === 0 ? "nothing grows" : `${over} grow`} faster than an exponent of ${MOST}`);
  if (over > 0) process.exitCode = 1;
}

/** Prints one thing that grows, and what of it takes long. Returns how much grows too fast. */
async function tell(grown: Grown): Promise<number> {
  const measured = await measure(grown);
  const last = measured.at(-1);
  if (last === undefined) return 0;
  console.log(`${grown.name}: ${last.size}, ${sumOf(last.ms).toFixed(0)} ms`);
  const told = [...last.ms].filter(([, ms]) => ms >= LEAST);
  for (const [step, ms] of told) {
    const exponent = exponentOf(measured, step);
    const mark = exponent > MOST ? "OVER" : "    ";
    console.log(`  ${mark}  ${exponent.toFixed(2)}  ${ms.toFixed(0).padStart(6)} ms  ${step}`);
  }
  return told.filter(([step]) => exponentOf(measured, step) > MOST).length;
}
