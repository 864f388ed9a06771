import { createWriteStream } from "node:fs";
import { mkdir, mkdtemp, readdir, rm } from "node:fs/promises";
import type { IncomingMessage, ServerResponse } from "node:http";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { pipeline } from "node:stream/promises";
import sirv from "sirv";
import { auditContent } from "../actions/audit.ts";
import { complaintPassages, deskCorrect, deskEnter, deskPreview } from "../actions/desk/correct.ts";
import { editWords } from "../actions/desk/edit.ts";
import { ownRecording, peaksOf } from "../actions/desk/peaks.ts";
import { deskFindings, deskLook, enterPublish, planPublish } from "../actions/desk/publish.ts";
import { textOfWords } from "../actions/desk/textEdit.ts";
import { tonight } from "../actions/desk/tonight.ts";
import { openWords, wordsOf } from "../actions/desk/words.ts";
import type { ListenOptions } from "../actions/listen.ts";
import { newEpisode } from "../actions/new.ts";
import type { RecordWorld } from "../actions/publish.ts";
import { recognisedText } from "../actions/recognisedText.ts";
import { buildSite } from "../build/build.ts";
import type { DeskDraft, DeskEdit, DeskProgress } from "../model/desk.ts";
import { blocks } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";

export interface DeskOptions {
  readonly content: string;
  /** Where the site is built. */
  readonly out: string;
  /** Where outlines of recordings are kept. */
  readonly cache: string;
  readonly world: RecordWorld;
  readonly listen: ListenOptions | null;
}

/** The most bytes of an order that the page gives. */
const MOST_JSON = 2_000_000;

/** An answer: something as JSON, or its own. */
type Route = (found: RegExpExecArray, request: IncomingMessage, response: ServerResponse) => Promise<unknown>;

/** Says that a route has answered by itself. */
export const ANSWERED = Symbol("answered");

export interface Routes {
  readonly read: readonly (readonly [RegExp, Route])[];
  /** These change something: they are answered only to a page of this server's. */
  readonly write: readonly (readonly [RegExp, Route])[];
  close(): Promise<void>;
}

const ID = "(\\d{4}-\\d\\d-\\d\\d(?:-[a-z0-9]+)*)";

/** Everything the desk's page may ask for, by address. */
export function routesOf(options: DeskOptions): Routes {
  const { content, world, cache } = options;
  const incoming = incomingFolder();
  const read: Routes["read"] = [
    [/^\/api\/tonight$/, async () => tonight(content)],
    [new RegExp(`^/api/words/${ID}$`), async ([, id = ""]) => wordsOf(await openWords(content, id))],
    [new RegExp(`^/api/findings/${ID}$`), async ([, id = ""]) => deskFindings(content, id, world.clock())],
    [new RegExp(`^/api/publish/${ID}$`), async ([, id = ""]) => planPublish(content, id, world)],
    [new RegExp(`^/api/correct/${ID}$`), async ([, id = ""]) => deskCorrect(content, id, world)],
    [
      new RegExp(`^/api/text/${ID}$`),
      async ([, id = ""], _request, response) => {
        const headers = {
          "Content-Type": "text/plain; charset=utf-8",
          "Content-Disposition": `attachment; filename="${id}.txt"`,
        };
        response.writeHead(200, headers).end(textOfWords(await openWords(content, id)));
        return ANSWERED;
      },
    ],
    [new RegExp(`^/api/look/${ID}$`), async ([, id = ""]) => deskLook(content, id, world.clock())],
    [
      new RegExp(`^/api/peaks/${ID}$`),
      async ([, id = ""], _request, response) => {
        const { sources, episode } = await openWords(content, id);
        const file = ownRecording(content, sources.folder, episode.media);
        const peaks = file === null ? null : await peaksOf(file, cache);
        response.writeHead(200, { "Content-Type": "application/octet-stream" }).end(peaks ?? new Uint8Array());
        return ANSWERED;
      },
    ],
    [
      new RegExp(`^/media/${ID}/([^/]+)$`),
      async ([, id = "", name = ""], request, response) => {
        const { sources, episode } = await openWords(content, id);
        const src = decodeURIComponent(name);
        if (!episode.media.some((one) => one.src === src)) throw new UsageError("This episode has no such recording.");
        request.url = `/${encodeURIComponent(src)}`;
        sirv(join(content, sources.folder), { dev: true })(request, response, () => {
          response.writeHead(404).end("There is no such file.");
        });
        return ANSWERED;
      },
    ],
  ];
  const write: Routes["write"] = [
    [
      new RegExp(`^/api/words/${ID}$`),
      async ([, id = ""], request) => {
        const { version, edit } = (await jsonOf(request)) as { readonly version: string; readonly edit: DeskEdit };
        return editWords({ content, id, version, edit, now: world.clock() });
      },
    ],
    [
      new RegExp(`^/api/publish/${ID}$`),
      async ([, id = ""], request) => {
        const { digest } = (await jsonOf(request)) as { readonly digest: string | null };
        return enterPublish(content, id, digest, world);
      },
    ],
    [
      new RegExp(`^/api/passages/${ID}$`),
      async ([, id = ""], request) => {
        const { complaint } = (await jsonOf(request)) as { readonly complaint: string };
        return complaintPassages(content, id, complaint, world);
      },
    ],
    [
      new RegExp(`^/api/preview/${ID}$`),
      async ([, id = ""], request) => deskPreview(content, id, (await jsonOf(request)) as DeskDraft, world),
    ],
    [
      new RegExp(`^/api/correct/${ID}$`),
      async ([, id = ""], request) => {
        const { digest, ...draft } = (await jsonOf(request)) as DeskDraft & { readonly digest: string };
        return deskEnter(content, id, draft, digest, world);
      },
    ],
    [/^\/api\/build$/, async (_found, _request, response) => streamed(response, (tell) => build(options, tell))],
    [/^\/api\/audit$/, async () => audit(options)],
    [
      /^\/api\/incoming\/([^/]+)$/,
      async ([, name = ""], request) => {
        await mkdir(await incoming(), { recursive: true });
        const folder = await mkdtemp(join(await incoming(), "file-"));
        const file = join(folder, safeName(decodeURIComponent(name)));
        await pipeline(request, createWriteStream(file));
        return { file: basename(folder) };
      },
    ],
    [
      /^\/api\/begin$/,
      async (_found, request, response) => {
        const asked = (await jsonOf(request)) as BeginAsked;
        const folder = await incoming();
        return streamed(response, (tell) => begin(asked, folder, options, tell));
      },
    ],
  ];
  return { read, write, close: incoming.close };
}

/** A name that people's files have, without anything that leads elsewhere. */
const safeName = (name: string): string =>
  basename(name)
    .replace(/[^\p{L}\p{N}._ -]/gu, "_")
    .replace(/^\.+/, "") || "file";

/** A folder for what the page sends, made when it is first wanted and gone with the server. */
function incomingFolder(): { (): Promise<string>; close(): Promise<void> } {
  let made: Promise<string> | null = null;
  const folder = () => (made ??= mkdtemp(join(tmpdir(), "afterair-desk-")));
  return Object.assign(folder, {
    async close() {
      if (made !== null) await rm(await made, { recursive: true, force: true });
    },
  });
}

async function jsonOf(request: IncomingMessage): Promise<unknown> {
  const pieces: Buffer[] = [];
  let bytes = 0;
  for await (const piece of request) {
    bytes += (piece as Buffer).length;
    if (bytes > MOST_JSON) throw new UsageError(`This is more than ${MOST_JSON} bytes: nothing was changed.`);
    pieces.push(piece as Buffer);
  }
  try {
    return JSON.parse(Buffer.concat(pieces).toString("utf8"));
  } catch {
    throw new UsageError("The page sent something that can't be read. Load it again.");
  }
}

type Tell = (line: DeskProgress) => void;

/** Work that takes a while: a line of JSON for each step, the last one says how it ended. */
async function streamed(
  response: ServerResponse,
  work: (tell: Tell) => Promise<DeskProgress>,
): Promise<typeof ANSWERED> {
  response.writeHead(200, { "Content-Type": "application/x-ndjson" });
  const tell: Tell = (line) => void response.write(`${JSON.stringify(line)}\n`);
  try {
    tell(await work(tell));
  } catch (error) {
    tell({ is: "failed", says: error instanceof Error ? error.message : String(error) });
  }
  response.end();
  return ANSWERED;
}

async function build({ content, out, world }: DeskOptions, tell: Tell): Promise<DeskProgress> {
  tell({ is: "doing", says: "Building the site" });
  const { findings, site } = await buildSite({ content, out, on: null, now: world.clock(), drafts: false });
  if (site === null) {
    const [first] = findings.filter(blocks);
    const why = first === undefined ? "" : ` ${first.at.file}: ${first.says} ${first.mend}`;
    return { is: "failed", says: `The site is as it was.${why}` };
  }
  return { is: "done", says: `The site is built: ${site.episodes} episodes, ${site.pages} pages in ${out}.`, to: null };
}

async function audit({
  content,
  out,
  world,
}: DeskOptions): Promise<{ readonly isSound: boolean; readonly says: string }> {
  const { findings, published } = await auditContent(
    { content, episodes: [], against: null, site: out },
    world.clock(),
  );
  const [first] = findings.filter(blocks);
  if (first === undefined)
    return { isSound: true, says: `Published: ${published}. Nothing of them changed in silence.` };
  return { isSound: false, says: `${first.at.file}, line ${first.at.line}: ${first.says} ${first.mend}` };
}

/** What the page asks for when an episode is begun. Files by the names that sending them gave. */
interface BeginAsked {
  readonly id: string;
  readonly transcript: string;
  readonly runningOrder: string | null;
  readonly media: readonly string[];
  readonly cut: readonly string[];
  readonly keepCues: boolean;
}

async function begin(asked: BeginAsked, folder: string, options: DeskOptions, tell: Tell): Promise<DeskProgress> {
  const { content, world, listen } = options;
  const fileOf = await sentFiles(folder);
  const { runningOrder, id, keepCues } = asked;
  const [says, understood]: [string[], string[]] = [[], []];
  const { findings, made } = await newEpisode({
    content,
    id,
    transcript: fileOf(asked.transcript),
    ...(runningOrder === null ? {} : { runningOrder: fileOf(runningOrder) }),
    media: asked.media.map(fileOf),
    cut: asked.cut,
    clock: "aired",
    keepCues,
    now: world.clock(),
    recognised: (what) => understood.push(...recognisedText(what, basename(fileOf(asked.transcript))).split("\n")),
    listen:
      listen === null
        ? null
        : { ...listen, progress: (share) => tell({ is: "doing", says: `Listening: ${Math.floor(share * 100)} %` }) },
    progress: (doing) => doing !== "" && tell({ is: "doing", says: doing.replaceAll(`${folder}/`, "") }),
  });
  for (const { level, says: own, mend } of findings) says.push(`${level === "blocks" ? "Stops: " : ""}${own} ${mend}`);
  if (made === null) return { is: "failed", says: [...understood, ...says].join("\n") };
  // The episode has its own copy of the recording.
  await rm(folder, { recursive: true, force: true });
  const { draft, cues, listened } = made;
  const head = `${cues} captions, ${draft.segments.length} segments.${listened === null ? "" : ` ${listened}`}`;
  return { is: "done", says: [head, ...says, ...understood].join("\n"), to: id };
}

/** Where each sent file lies. @throws UsageError for one that was not sent. */
async function sentFiles(folder: string): Promise<(name: string) => string> {
  const files = new Map<string, string>();
  for (const name of await readdir(folder).catch(() => [])) {
    const [file] = await readdir(join(folder, name));
    if (file !== undefined) files.set(name, join(folder, name, file));
  }
  return (name) => {
    const file = files.get(name);
    if (file === undefined) throw new UsageError("A file did not arrive: choose it again.");
    return file;
  };
}
