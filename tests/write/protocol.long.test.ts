import { describe, expect, test } from "vitest";
import { changeRecord, changeUnlocked, type Files, WriteFault } from "../../src/write/record.ts";
import { type MemoryDisk, memoryDisk } from "../support/memoryDisk.ts";

/**
 * Explores the states of several writers of one episode's record: the real code, on a disk in memory, with every order in
 * which their calls can follow one another, and with one of them ended at any call. A writer that is not chosen for a while
 * is one that is paused. States that were seen are not gone into twice.
 */

const [CONTENT, FOLDER] = ["/c", "/c/e"];
const RECORD = `${FOLDER}/record.jsonl`;
const START = { [RECORD]: "published\n", [`${FOLDER}/corrections/0.md`]: "0" };

/** How a writer ended; null: not yet. */
type End = "entered" | "refused" | "killed" | null;

interface Writer {
  readonly name: string;
  end: End;
  /** Goes on with the next call to the disk. */
  go: (() => void) | null;
  /** What the disk has answered it so far, as text: with the code, this is all that it knows. */
  knows: string;
}

/** A step: a writer's next call, or its end. */
type Step = `${string}` | `kill ${string}`;

interface Setting {
  readonly writers: readonly string[];
  /** Whether they take the lock. */
  readonly locks: boolean;
  readonly kills: number;
}

/** Lets all that waits for nothing but itself come to its next call. */
const settle = async (): Promise<void> => {
  for (let n = 0; n < 3; n++) await new Promise<void>((done) => setImmediate(done));
};

/** All writers before their first call. */
async function begin(setting: Setting) {
  const disk = memoryDisk(START);
  const names = new Map<string, string>();
  const writers = setting.writers.map((name): Writer => ({ name, end: null, go: null, knows: "" }));
  for (const writer of writers) {
    const files = paused(disk.files, writer);
    const gone = async () => writers.some(({ end }) => end === "killed");
    const change = async () => {
      const before = Buffer.from((await files.read(RECORD)) ?? []).toString();
      const entry = { path: "record.jsonl", bytes: Buffer.from(`${before}${writer.name}\n`) };
      return {
        files: [{ path: `corrections/${writer.name}.md`, bytes: Buffer.from(writer.name) }, entry],
        answer: null,
      };
    };
    const changed = setting.locks
      ? changeRecord({ folder: FOLDER, content: CONTENT }, change, files, { waits: 0, gone })
      : changeUnlocked(FOLDER, change, files);
    void changed.then(
      () => {
        writer.end ??= "entered";
      },
      (error: unknown) => {
        if (!(error instanceof WriteFault)) throw error;
        writer.end ??= "refused";
      },
    );
  }
  await settle();
  /** Names given by chance are called by the order in which they are met. */
  const plain = (text: string): string =>
    text.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, (id) => {
      names.set(id, names.get(id) ?? `#${names.size}`);
      return names.get(id) ?? "";
    });
  const state = () => plain(JSON.stringify([disk.seen(), writers.map(({ end, knows }) => [end, knows])]));
  return { disk, writers, state };
}

type Reached = Awaited<ReturnType<typeof begin>>;

/** Takes one step further. */
async function take({ disk, writers }: Reached, step: Step): Promise<void> {
  const writer = writers.find(({ name }) => step.endsWith(name));
  if (writer === undefined) throw new Error(step);
  const { go } = writer;
  writer.go = null;
  if (step.startsWith("kill ")) writer.end = "killed";
  else go?.();
  await settle();
  check(disk);
}

/** A writer's calls, each of which waits until it is chosen. */
function paused(files: Files, writer: Writer): Files {
  const own: Record<string, unknown> = {};
  for (const [call, real] of Object.entries(files) as [string, (...given: unknown[]) => Promise<unknown>][]) {
    own[call] = async (...given: unknown[]) => {
      // Nobody sees whether a folder is on the disk yet, so it is one step with the next call.
      if (call !== "syncFolder") {
        await new Promise<void>((go) => {
          writer.go = go;
        });
      }
      const answer = await real(...given).catch((error: Error) => error);
      writer.knows += `${call} ${String(answer instanceof Uint8Array ? Buffer.from(answer) : answer)};`;
      if (answer instanceof Error) throw answer;
      return answer;
    };
  }
  return own as unknown as Files;
}

/** What any reader may find at any moment. */
function check(disk: MemoryDisk): void {
  const found = new Map(disk.seen());
  const lines = (found.get(RECORD) ?? "").trim().split("\n");
  expect(lines[0]).toBe("published");
  for (const name of lines.slice(1)) expect(found.get(`${FOLDER}/corrections/${name}.md`), name).toBe(name);
}

/** What must hold once all have ended and the next command has looked. */
async function judge({ disk, writers }: Reached): Promise<readonly End[]> {
  const nothing = async () => ({ files: [], answer: null });
  await changeRecord({ folder: FOLDER, content: CONTENT }, nothing, disk.files, { waits: 0, gone: async () => true });
  check(disk);
  const found = new Map(disk.seen());
  const lines = (found.get(RECORD) ?? "").trim().split("\n").slice(1);
  expect(new Set(lines).size).toBe(lines.length);
  for (const { name, end } of writers) {
    const isIn = lines.includes(name);
    if (end === "entered") expect(isIn, `${name} said that it entered`).toBe(true);
    if (end === "refused") expect(isIn, `${name} said that it did not enter`).toBe(false);
    expect(found.has(`${FOLDER}/corrections/${name}.md`), name).toBe(isIn);
  }
  const left = [...found.keys()].filter((path) => path.includes("/.record.") && !path.includes(".record.lock."));
  expect(left.filter((path) => !path.startsWith(`${CONTENT}/.record.lock`))).toEqual([]);
  return writers.map(({ end }) => end);
}

/**
 * Goes into every state once. Before their first call writers are alike, so the first step is always the first writer's.
 * @returns how many states there were, and all ways in which the writers ended, in either order of theirs
 */
async function explore(setting: Setting): Promise<{ readonly states: number; readonly ends: ReadonlySet<string> }> {
  const seen = new Set<string>();
  const ends = new Set<string>();
  const due: (readonly Step[])[] = [setting.writers[0] ?? "", `kill ${setting.writers[0]}`].map((step) => [step]);
  for (let steps = due.pop(); steps !== undefined; steps = due.pop()) {
    const reached = await begin(setting);
    for (const step of steps) await take(reached, step);
    // On from here without starting again, as long as the state is a new one.
    for (let state = reached.state(); !seen.has(state); state = reached.state()) {
      seen.add(state);
      const open = reached.writers.filter(({ end }) => end === null);
      if (open.length === 0) {
        const ended = await judge(reached);
        for (const one of [ended, ended.toReversed()]) ends.add(JSON.stringify(one));
      }
      const mayKill = steps.filter((step) => step.startsWith("kill ")).length < setting.kills;
      const [next, ...others] = open.flatMap(({ name }): Step[] => (mayKill ? [name, `kill ${name}`] : [name]));
      for (const step of others) due.push([...steps, step]);
      if (next === undefined) break;
      steps = [...steps, next];
      await take(reached, next);
    }
  }
  return { states: seen.size, ends };
}

/** Both entered, or one refused; of one that was killed nobody knows what it would have said. */
const ENDS = [
  '["entered","entered"]',
  '["entered","killed"]',
  '["entered","refused"]',
  '["killed","entered"]',
  '["killed","refused"]',
  '["refused","entered"]',
  '["refused","killed"]',
];

describe("two writers of one record, in every order of their calls, and one of them killed at any: both enter or one is refused", () => {
  test.each([
    ["under the lock", true],
    ["with no lock to hold anybody off", false],
  ])("%s", { timeout: 300_000 }, async (_what, locks) => {
    const { states, ends } = await explore({ writers: ["a", "b"], locks, kills: 1 });
    expect([...ends].sort()).toEqual(ENDS);
    // So many that no order was left out: of some 40 calls, most leave another state.
    expect(states).toBeGreaterThan(5000);
  });
});
