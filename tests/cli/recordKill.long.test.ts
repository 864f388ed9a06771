import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { readRecord } from "../../src/record/entry.ts";
import { randomOfRun } from "../support/seed.ts";
import { auditing, ID, publishing, rules, type Stage, stage, world } from "./recordStage.ts";

const RUNS = Number(process.env.AFTERAIR_KILLS ?? 12);
const RUNNER = fileURLToPath(new URL("./recordRunner.ts", import.meta.url));
const AT_ONCE = 2;

/** Where the time to the kill begins: publishing, the first correction, later ones. */
const BEGINNINGS = ["ready", "published", "corrected 1"] as const;

/** Starts the runner, kills it `delay` milliseconds after it said `from`, and tells what it had said by then. */
function killed(on: Stage, from: string, delay: number): Promise<readonly string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ["--import", "tsx", RUNNER, on.content, ID, "1000"]);
    let [said, faults, counting] = ["", "", false];
    child.stderr.on("data", (data: Buffer) => {
      faults += data.toString();
    });
    child.stdout.on("data", (data: Buffer) => {
      said += data.toString();
      if (counting || !said.includes(`${from}\n`)) return;
      counting = true;
      setTimeout(() => child.kill("SIGKILL"), delay);
    });
    child.on("error", reject);
    child.on("close", (_code, signal) => {
      if (signal === "SIGKILL") resolve(said.split("\n").slice(0, -1));
      else reject(new Error(`ended by itself: ${faults}`));
    });
  });
}

async function judge(on: Stage, said: readonly string[]): Promise<void> {
  const finished = said.filter((line) => line.startsWith("corrected")).length;
  const later = world(new Date(Date.now() + 1000).toISOString()).io;
  // Whoever comes next breaks the lock, ends what was decided, and finds nothing that awaits entry.
  expect(rules(await publishing(on, {}, later))).toEqual([]);
  const corrections = on.files().filter((path) => path.startsWith("corrections/"));
  const entries = readRecord(on.read("record.jsonl")).lines.map(({ entry }) => entry);
  expect(entries.map((entry) => entry?.correction?.id).filter((id) => id !== undefined)).toHaveLength(
    corrections.length,
  );
  expect(corrections.length).toBeGreaterThanOrEqual(finished);
  expect(corrections.length).toBeLessThanOrEqual(finished + 1);
  expect(on.files().filter((path) => /(^|\/)\./.test(path))).toEqual([]);
  expect(await auditing(on, {}, later)).toEqual([]);
}

test(`killed at any moment ${RUNS} times, publish and correct leave the old state or the new one`, {
  timeout: RUNS * 10_000,
}, async () => {
  const random = randomOfRun();
  let left = RUNS;
  let corrected = 0;
  const worker = async (): Promise<void> => {
    while (left > 0) {
      left -= 1;
      const on = stage();
      try {
        const from = BEGINNINGS[left % BEGINNINGS.length] ?? "ready";
        const said = await killed(on, from, random.next() * 200);
        corrected += said.filter((line) => line.startsWith("corrected")).length;
        await judge(on, said);
      } finally {
        on.clear();
      }
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
  expect(corrected).toBeGreaterThan(0);
});

test("two processes correcting at once both land everything they say they have", { timeout: 60_000 }, async () => {
  const on = stage();
  try {
    await publishing(on, {}, world(new Date().toISOString()).io);
    const said = await Promise.all([killed(on, "corrected 1", 1500), killed(on, "corrected 1", 1500)]);
    const finished = said.flat().filter((line) => line.startsWith("corrected")).length;
    const later = world(new Date(Date.now() + 1000).toISOString()).io;
    expect(rules(await publishing(on, {}, later))).toEqual([]);
    const corrections = on.files().filter((path) => path.startsWith("corrections/"));
    expect(said.every((lines) => lines.some((line) => line.startsWith("corrected")))).toBe(true);
    expect(corrections.length).toBeGreaterThanOrEqual(finished);
    expect(corrections.length).toBeLessThanOrEqual(finished + 2);
    expect(await auditing(on, {}, later)).toEqual([]);
  } finally {
    on.clear();
  }
});
