import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { PublishOptions } from "../../src/actions/publish.ts";
import { type AuditCommand, audit } from "../../src/cli/audit.ts";
import { type CorrectOptions, correct } from "../../src/cli/correct.ts";
import { publish } from "../../src/cli/publish.ts";
import type { Ask, RecordIo } from "../../src/cli/recordIo.ts";
import { type Files, nodeFiles } from "../../src/write/record.ts";

export const ID = "2026-10-05";
export const FOLDER = `episodes/2026/${ID}`;

const PROGRAMME = `---
title: The Evening Tide
station: Verrin Islands Broadcasting
language: en-GB
timezone: Europe/London
url: https://tide.example.org/
slot: { at: "18:30", runs: "8:00", days: weeknights }
framerate: 25
reports: mailto:corrections@tide.example.org
presenters: [Tamsin Hathersay]
poster: poster.svg
posteralt: A lighthouse
---
About it.
`;

const EPISODE = `---
title: Fewer ferries
summary: The timetable, and a light.
aired: 2026-10-05T18:30:00
duration: 0:40
media: [{ src: "https://media.example.org/a.mp3", type: audio/mpeg }]
clock: aired
segments:
  - { slug: headlines, kind: headlines, title: Headlines, in: 0:00 }
  - { slug: ferry-timetable, kind: package, title: Nine sailings a week, in: 0:15, by: [Ilse Marrane], summary: What is left. }
  - { slug: close, kind: close, title: Good night, in: 0:30 }
---
With thanks to the harbour.
`;

const TRANSCRIPT = `WEBVTT

00:00.000 --> 00:05.000
<v Tamsin Hathersay>Good evening. The ferry from Sollen will make eleven

00:05.000 --> 00:10.000
<v Tamsin Hathersay>sailings a week, not fourteen.

00:10.000 --> 00:15.000
<v Tamsin Hathersay>Osric Tarrick has kept Hallan light for forty years.

00:15.000 --> 00:20.000
<v Ilse Marrane>Eleven sailings, that’s what’s left, says the “company”.

00:20.000 --> 00:25.000
<v Ilse Marrane>The harbour master, Rowan Skelland, would not be drawn.

00:25.000 --> 00:30.000
<v Ilse Marrane>Rowan Skelland’s office did not answer.

00:35.000 --> 00:40.000
<v Tamsin Hathersay>That is all from us. Good night.
`;

/** A content folder of one episode, in a folder of its own. */
export interface Stage {
  readonly content: string;
  /** Of the episode: `record.jsonl`. */
  read(path: string): string;
  write(path: string, text: string): void;
  edit(path: string, from: string, to: string): void;
  remove(path: string): void;
  /** All files of the episode's folder. */
  files(): readonly string[];
  /** Of them the corrections, by the moment they are dated: `corrections/2026-10-06-1.md`. */
  corrections(): readonly string[];
  /** A copy of the content folder as it is. */
  copy(): string;
  clear(): void;
}

export function stage(): Stage {
  const root = mkdtempSync(join(tmpdir(), "afterair-record-"));
  const content = join(root, "content");
  const inside = (path: string): string => join(content, FOLDER, path);
  let copies = 0;
  const own: Stage = {
    content,
    read: (path) => readFileSync(inside(path), "utf8"),
    write(path, text) {
      mkdirSync(dirname(inside(path)), { recursive: true });
      writeFileSync(inside(path), text);
    },
    edit(path, from, to) {
      const text = own.read(path);
      if (!text.includes(from)) throw new Error(`${path} has no ${from}`);
      own.write(path, text.replace(from, to));
    },
    remove: (path) => rmSync(inside(path), { recursive: true }),
    files: () =>
      readdirSync(inside(""), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name).slice(inside("").length))
        .map((path) => path.replace(/^\//, ""))
        .sort(),
    corrections: () => {
      const dated = (path: string) => /^dated: (.*)$/m.exec(own.read(path))?.[1] ?? "";
      const paths = own.files().filter((path) => path.startsWith("corrections/"));
      return paths.sort((a, b) => (dated(a) < dated(b) ? -1 : 1));
    },
    copy() {
      copies += 1;
      const to = join(root, `copy-${copies}`);
      cpSync(content, to, { recursive: true });
      return to;
    },
    clear: () => rmSync(root, { recursive: true, force: true }),
  };
  own.write("episode.md", EPISODE);
  own.write("transcript.vtt", TRANSCRIPT);
  writeFileSync(join(content, "programme.md"), PROGRAMME);
  writeFileSync(join(content, "poster.svg"), "<svg/>");
  return own;
}

/** Puts all of a stage under version control, as it is. */
export function commit(on: Stage): void {
  const git = (...call: readonly string[]) =>
    execFileSync("git", ["-c", "user.name=Me", "-c", "user.email=me@example.org", ...call], {
      cwd: on.content,
      stdio: "pipe",
    });
  git("init", "-q");
  writeFileSync(join(on.content, ".gitattributes"), "* -text\nrecord.jsonl -merge\ntranscript*.vtt -merge\n");
  git("add", "-A");
  git("commit", "-q", "-m", "As it is");
}

/** An outside world that remembers what it was told. The clock stands at a morning after the broadcast, and can be set. */
export function world(now = "2026-10-06T08:00:00Z", ask: Ask | null = null, files: Files = nodeFiles) {
  const [out, err]: [string[], string[]] = [[], []];
  const io: RecordIo = {
    out: (text) => void out.push(text),
    err: (text) => void err.push(text),
    now: new Date(now),
    clock: () => new Date(now),
    ask,
    files,
  };
  return { io, out: () => out.join("\n"), err: () => err.join("\n") };
}

const PUBLISH: Omit<PublishOptions, "content"> = {
  episode: ID,
  reissue: null,
  repair: false,
  dryRun: false,
  checks: () => [],
};
export const publishing = (on: Stage, given: Partial<PublishOptions> = {}, io = world().io) =>
  publish({ ...PUBLISH, content: on.content, ...given }, io);

const CORRECT: Omit<CorrectOptions, "content"> = {
  episode: ID,
  kind: null,
  segment: null,
  at: null,
  field: null,
  said: null,
  now: null,
  every: false,
  signed: "Standards editor",
  supersedes: null,
  note: "We got it wrong.",
  dryRun: false,
  yes: true,
};
export const correcting = (on: Stage, given: Partial<CorrectOptions>, io = world("2026-10-06T09:00:00Z").io) =>
  correct({ ...CORRECT, content: on.content, ...given }, io);

export const auditing = (on: Stage, given: Partial<AuditCommand> = {}, io = world("2026-10-10T08:00:00Z").io) =>
  audit({ content: on.content, episodes: [], against: null, site: null, format: "text", ...given }, io);

export const rules = (findings: readonly { readonly rule: string; readonly level: string }[]): readonly string[] =>
  findings.filter(({ level }) => level === "blocks").map(({ rule }) => rule);
