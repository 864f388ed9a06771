/** Publishes the episode of a stage and goes on correcting it until it is killed; says what it has finished. */
import { correct } from "../../src/cli/correct.ts";
import { publish } from "../../src/cli/publish.ts";
import { nodeFiles } from "../../src/write/record.ts";

const [content = "", episode = "", most = "0"] = process.argv.slice(2);
const say = (text: string): void => void process.stdout.write(`${text}\n`);
const io = {
  out: () => {},
  err: (text: string) => void process.stderr.write(`${text}\n`),
  now: new Date(),
  clock: () => new Date(),
  ask: null,
  files: nodeFiles,
};

say("ready");
await publish({ content, episode, reissue: null, repair: false, dryRun: false, checks: () => [] }, io);
say("published");
const open = { segment: null, field: null, now: null, every: false, supersedes: null, dryRun: false, yes: true };
for (let count = 1; count <= Number(most); count += 1) {
  const draft = {
    ...open,
    kind: "on-air",
    said: "forty years",
    at: "0:12",
    signed: "Me",
    note: `Note ${count}.`,
  } as const;
  const findings = await correct({ ...draft, content, episode }, io);
  if (findings.length > 0) throw new Error(JSON.stringify(findings));
  say(`corrected ${count}`);
}
