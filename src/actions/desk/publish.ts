import { CAUTION_SAYS } from "../../checks/cautions/lists.ts";
import { groupOf } from "../../checks/index.ts";
import type { DeskFinding, DeskLook, DeskPublish } from "../../model/desk.ts";
import { CAUTIONS } from "../../model/episode.ts";
import type { Finding } from "../../model/finding.ts";
import { cautionText } from "../../pages/words.ts";
import { openProgramme } from "../../read/index.ts";
import { proposalsIn } from "../../read/proposals.ts";
import { decodeVtt, parseVtt } from "../../webvtt/index.ts";
import { checkContent } from "../check.ts";
import { figuresOfEpisode } from "../figures.ts";
import { type Published, proposalsToConfirm, publishEpisode, type RecordWorld } from "../publish.ts";
import { readContent } from "../retimeContent.ts";
import { digestOfTexts } from "../texts.ts";

/** What a person should look at in an episode, each at the caption it is about. */
export async function deskFindings(content: string, id: string, now: Date): Promise<readonly DeskFinding[]> {
  const findings = await checkContent({ content, episodes: [id], on: null, now, each: true });
  return withCaptions(findings, content, id);
}

/** What a second pair of eyes goes through: every figure that was said, and what the checks found, by their groups. */
export async function deskLook(content: string, id: string, now: Date): Promise<DeskLook> {
  const [figures, findings] = await Promise.all([
    figuresOfEpisode(id, { content, on: null, now }),
    deskFindings(content, id, now),
  ]);
  return {
    figures: figures.map(({ seconds, words, value, unit, also }) => ({
      at: Math.round(seconds * 1000),
      words,
      value: unit === null ? value : `${value} ${unit}`,
      also: also.join(", "),
    })),
    findings: findings.map((finding) => ({ ...finding, group: groupOf(finding.rule) ?? "files" })),
    cautions: CAUTIONS.map((caution) => {
      const { label, says } = cautionText(caution);
      return { caution, label, usual: CAUTION_SAYS[caution], shown: says };
    }),
    code: openProgramme(content).programme?.code ?? null,
  };
}

/** What a command or a key of episode.md would do, the desk has a button or a box for. */
const HERE: readonly (readonly [RegExp, string])[] = [
  [/`check --fix names`/, "“Names as registered”"],
  [/and write `edges: heard` into the segment/, "and say in the running order that you listened"],
  [/Add `cautions: \[[a-z-]+\]`/, "Tick its label in the second look"],
];

/** Findings of an episode and its programme, with the captions they are about. */
function withCaptions(findings: readonly Finding[], content: string, id: string): readonly DeskFinding[] {
  const { transcript } = readContent({ content, id }).sources;
  const lines = transcript === null ? [] : parseVtt(decodeVtt(transcript.bytes).text).cues.map(({ line }) => line);
  return findings.map((finding): DeskFinding => {
    const { rule, level, seconds, says, at } = finding;
    const mend = HERE.reduce((text, [there, here]) => text.replace(there, here), finding.mend);
    const caption = at.file === transcript?.file ? lines.findLastIndex((line) => line <= at.line) : -1;
    const ms = seconds === null ? null : Math.round(seconds * 1000);
    const change = finding.change ?? null;
    return { rule, level, at: ms, says, mend, caption: caption === -1 ? null : caption, change };
  });
}

/** What publishing an episode would do, and which proposals somebody must say to be right. Writes nothing. */
export async function planPublish(content: string, id: string, world: RecordWorld): Promise<DeskPublish> {
  const options = { content, episode: id, reissue: null, repair: false, dryRun: true };
  const asked = await proposalsToConfirm(options, world);
  const { sources } = readContent({ content, id });
  const confirmed = digestOfTexts(sources);
  const plan = told(await publishEpisode({ ...options, confirmed }, world), content, id);
  const proposals = plan.state === "nothing" ? [] : proposalsIn(sources);
  return {
    ...plan,
    proposals: proposals.map(({ what, name, ms }) => ({ what, name, at: ms })),
    digest: asked?.digest ?? null,
  };
}

/** Publishes an episode. @param confirmed the digest of the texts whose proposals somebody said to be right. */
export async function enterPublish(
  content: string,
  id: string,
  confirmed: string | null,
  world: RecordWorld,
): Promise<DeskPublish> {
  const options = { content, episode: id, reissue: null, repair: false, dryRun: false, confirmed };
  return told(await publishEpisode(options, world), content, id);
}

function told({ state, refused, findings, entries }: Published, content: string, id: string): DeskPublish {
  const all = withCaptions(findings, content, id);
  return {
    state,
    refused,
    findings: [...all.filter(({ level }) => level === "blocks"), ...all.filter(({ level }) => level !== "blocks")],
    proposals: [],
    digest: null,
    entries: (entries ?? []).map(({ entry, title, segments, cues, correction }) =>
      correction === null
        ? `${entry.what}: “${title}”, ${segments} segments, ${cues} captions`
        : `${entry.what}: ${correction.id}, signed ${correction.signed}`,
    ),
  };
}
