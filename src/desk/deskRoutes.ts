import { createWriteStream } from "node:fs";
import { mkdir, mkdtemp, readdir, rm } from "node:fs/promises";
import type { IncomingMessage, ServerResponse } from "node:http";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { pipeline } from "node:stream/promises";
import sirv from "sirv";
import type { z } from "zod";
import { deskBegin } from "../actions/desk/begin.ts";
import { complaintPassages, deskCorrect, deskEnter, deskPreview } from "../actions/desk/correct.ts";
import { editWords } from "../actions/desk/edit.ts";
import { ownRecording, peaksOf } from "../actions/desk/peaks.ts";
import { deskFindings, deskLook, enterPublish, planPublish } from "../actions/desk/publish.ts";
import { deskAudit, deskBuild } from "../actions/desk/site.ts";
import { textOfWords } from "../actions/desk/textEdit.ts";
import { tonight } from "../actions/desk/tonight.ts";
import { makeWebFile, planWebFile } from "../actions/desk/webFile.ts";
import { openWords, wordsOf } from "../actions/desk/words.ts";
import type { ListenOptions } from "../actions/listen.ts";
import type { RecordWorld } from "../actions/publish.ts";
import type { DeskProgress } from "../model/desk.ts";
import { UsageError } from "../model/usageError.ts";
import {
  BeginShape,
  DraftAsked,
  EditAsked,
  EnterAsked,
  MakeAsked,
  PassagesAsked,
  PublishAsked,
  WebFileAsked,
} from "./deskShapes.ts";

export interface DeskOptions {
  readonly content: string;
  /** Where the site is built. */
  readonly out: string;
  /** Where outlines of recordings are kept. */
  readonly cache: string;
  readonly world: RecordWorld;
  readonly listen: ListenOptions | null;
  /** The name or path of ffmpeg; left out: as it is called everywhere. */
  readonly ffmpeg?: string;
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
export function routesOf({ content, out, world, cache, listen, ffmpeg = "ffmpeg" }: DeskOptions): Routes {
  const incoming = incomingFolder();
  const read: Routes["read"] = [
    [/^\/api\/tonight$/, async () => tonight(content, world.clock())],
    [new RegExp(`^/api/words/${ID}$`), async ([, id = ""]) => wordsOf(await openWords(content, id, world.clock()))],
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
        response.writeHead(200, headers).end(textOfWords(await openWords(content, id, world.clock())));
        return ANSWERED;
      },
    ],
    [new RegExp(`^/api/look/${ID}$`), async ([, id = ""]) => deskLook(content, id, world.clock())],
    [
      new RegExp(`^/api/peaks/${ID}$`),
      async ([, id = ""], _request, response) => {
        const { sources, episode } = await openWords(content, id, world.clock());
        const file = ownRecording(content, sources.folder, episode.media);
        const peaks = file === null ? null : await peaksOf(file, cache);
        response.writeHead(200, { "Content-Type": "application/octet-stream" }).end(peaks ?? new Uint8Array());
        return ANSWERED;
      },
    ],
    [
      new RegExp(`^/media/${ID}/([^/]+)$`),
      async ([, id = "", name = ""], request, response) => {
        const { sources, episode } = await openWords(content, id, world.clock());
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
        const { version, edit } = await jsonOf(request, EditAsked);
        return editWords({ content, id, version, edit, now: world.clock(), files: world.files });
      },
    ],
    [
      new RegExp(`^/api/publish/${ID}$`),
      async ([, id = ""], request) => {
        const { digest } = await jsonOf(request, PublishAsked);
        return enterPublish(content, id, digest, world);
      },
    ],
    [
      new RegExp(`^/api/passages/${ID}$`),
      async ([, id = ""], request) => {
        const { complaint } = await jsonOf(request, PassagesAsked);
        return complaintPassages(content, id, complaint, world);
      },
    ],
    [
      new RegExp(`^/api/preview/${ID}$`),
      async ([, id = ""], request) => deskPreview(content, id, await jsonOf(request, DraftAsked), world),
    ],
    [
      new RegExp(`^/api/correct/${ID}$`),
      async ([, id = ""], request) => {
        const { digest, ...draft } = await jsonOf(request, EnterAsked);
        return deskEnter(content, id, draft, digest, world);
      },
    ],
    [
      new RegExp(`^/api/webfile/${ID}$`),
      async ([, id = ""], request) => {
        const { more } = await jsonOf(request, WebFileAsked);
        return planWebFile({ content, id, more, ffmpeg, now: world.clock() });
      },
    ],
    [
      new RegExp(`^/api/make/${ID}$`),
      async ([, id = ""], request, response) => {
        const { version, more } = await jsonOf(request, MakeAsked);
        return streamed(response, (tell) =>
          makeWebFile({ content, id, more, ffmpeg, now: world.clock() }, version, tell),
        );
      },
    ],
    [
      /^\/api\/build$/,
      async (_found, _request, response) =>
        streamed(response, (tell) => {
          tell("Building the site");
          return deskBuild({ content, out, now: world.clock() });
        }),
    ],
    [/^\/api\/audit$/, async () => deskAudit({ content, out, now: world.clock() })],
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
        const asked = await jsonOf(request, BeginShape);
        const folder = await incoming();
        const fileOf = await sentFiles(folder);
        return streamed(response, async (tell) => {
          const begun = await deskBegin(asked, { content, now: world.clock(), listen, fileOf, tell });
          // The episode has its own copy of the recording. What was refused may be tried again.
          if (begun.is === "done") await rm(folder, { recursive: true, force: true });
          return begun;
        });
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

/** What the page sent. @throws UsageError where it is too much, or of another shape. */
async function jsonOf<T>(request: IncomingMessage, shape: z.ZodType<T>): Promise<T> {
  const pieces: Buffer[] = [];
  let bytes = 0;
  for await (const piece of request) {
    bytes += (piece as Buffer).length;
    if (bytes > MOST_JSON) throw new UsageError(`This is more than ${MOST_JSON} bytes: nothing was changed.`);
    pieces.push(piece as Buffer);
  }
  try {
    return shape.parse(JSON.parse(Buffer.concat(pieces).toString("utf8")));
  } catch {
    throw new UsageError("The page sent something that can't be read. Load it again: nothing was changed.");
  }
}

type Tell = (says: string) => void;

/** Work that takes a while: a line of JSON for each step, the last one says how it ended. */
async function streamed(
  response: ServerResponse,
  work: (tell: Tell) => Promise<DeskProgress>,
): Promise<typeof ANSWERED> {
  response.writeHead(200, { "Content-Type": "application/x-ndjson" });
  const write = (line: DeskProgress) => response.write(`${JSON.stringify(line)}\n`);
  try {
    write(await work((says) => void write({ is: "doing", says })));
  } catch (error) {
    write({ is: "failed", says: error instanceof Error ? error.message : String(error) });
  }
  response.end();
  return ANSWERED;
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
