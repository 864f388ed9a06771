import { once } from "node:events";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Cue, type CueNode, parseCueText, parseVtt } from "../../src/webvtt/index.ts";
import { drawFile, drawsFrom, mutate } from "../webvtt/generate.ts";
import { inPlayOrder } from "../webvtt/show.ts";
import { BROWSER, launch, UNLESS_BROWSER } from "./chromium.ts";

/** A cue of a `<track>`, as the page reads it. `lineAlign`, `positionAlign` and `region` the browser does not have. */
interface TrackCue {
  readonly id: string;
  readonly startTime: number;
  readonly endTime: number;
  readonly text: string;
  readonly vertical: string;
  readonly snapToLines: boolean;
  readonly line: number | "auto";
  readonly position: number | "auto";
  readonly size: number;
  readonly align: string;
  /** `getCueAsHTML()`, in the notation of `showNodes`. */
  readonly tree: string;
}

/** Loads `/0.vtt`, `/1.vtt` … as tracks of the page; null where the browser reports an error. Runs in the page. */
async function loadTracks(count: number): Promise<readonly (readonly TrackCue[] | null)[]> {
  const show = (node: Node): string => {
    if (node.nodeType === 3) return JSON.stringify(node.nodeValue);
    if (node.nodeType === 7) return `<${node.nodeValue}>`;
    if (!(node instanceof HTMLElement)) return "";
    const named = [node.localName, node.className, node.title, node.lang].join("|");
    return `${named}(${[...node.childNodes].map(show).join(" ")})`;
  };
  const load = async (n: number): Promise<readonly TrackCue[] | null> => {
    const video = document.createElement("video");
    const track = document.createElement("track");
    video.append(track);
    document.body.append(video);
    const loaded = new Promise<boolean>((done) => {
      track.addEventListener("load", () => done(true));
      track.addEventListener("error", () => done(false));
    });
    track.track.mode = "hidden";
    track.src = `/${n}.vtt`;
    const cues = (await loaded) ? ([...(track.track.cues ?? [])] as VTTCue[]) : null;
    video.remove();
    return (
      cues?.map((cue) => ({
        id: cue.id,
        startTime: cue.startTime,
        endTime: cue.endTime,
        text: cue.text,
        vertical: cue.vertical,
        snapToLines: cue.snapToLines,
        line: cue.line,
        position: cue.position,
        size: cue.size,
        align: cue.align,
        tree: [...cue.getCueAsHTML().childNodes].map(show).join(" "),
      })) ?? null
    );
  };
  const all: (readonly TrackCue[] | null)[] = [];
  for (let n = 0; n < count; n++) all.push(await load(n));
  return all;
}

const ELEMENTS = { c: "span", v: "span", lang: "span", b: "b", i: "i", u: "u", ruby: "ruby", rt: "rt" } as const;

/** A time as the DOM has it: all parts, hours in two digits (WebVTT §6.5). */
function clockOf(seconds: number): string {
  const ms = Math.round(seconds * 1000);
  const two = (n: number): string => String(Math.floor(n)).padStart(2, "0");
  const clock = [two(ms / 3_600_000), two((ms / 60_000) % 60), two((ms / 1000) % 60)].join(":");
  return `${clock}.${String(ms % 1000).padStart(3, "0")}`;
}

/** "WebVTT cue text DOM construction rules" (WebVTT §6.5): `element|classes|title|lang(children)`. */
function showNodes(nodes: readonly CueNode[]): string {
  return nodes
    .map((node) => {
      if (node.kind === "text") return JSON.stringify(node.words);
      if (node.kind === "stamp") return `<${clockOf(node.seconds)}>`;
      const title = node.tag === "v" ? node.value : "";
      const lang = node.tag === "lang" ? node.value : "";
      return `${[ELEMENTS[node.tag], node.classes.join(" "), title, lang].join("|")}(${showNodes(node.children)})`;
    })
    .join(" ");
}

const trackCueOf = ({ id, startTime, endTime, text, settings }: Cue): TrackCue => {
  const { vertical, snapToLines, line, position, size, align } = settings;
  const tree = showNodes(parseCueText(text));
  return { id, startTime, endTime, text, vertical, snapToLines, line, position, size, align, tree };
};

/**
 * Where Chromium names a cue otherwise. It takes the last line before timings for an identifier, in a header and in a
 * block whose first two lines have no good timings, and STYLE or REGION above timings for none. The standard (§6.1):
 * "let position be previous position and break out of loop", which leaves such lines behind; and "Let cue's text
 * track cue identifier be buffer", whatever it holds.
 */
function idMayDiffer(text: string): boolean {
  const [header = "", ...others] = text.replace(/\r\n?/g, "\n").split(/\n\n+/);
  const heading = /^(?:STYLE|REGION)/m;
  return (
    header.includes("-->") ||
    heading.test(header) ||
    others.some((block) => block.includes("-->") && (heading.test(block) || /^(?:.+\n){2,}.*-->/.test(block)))
  );
}

/**
 * Where Chromium reads a tag otherwise. It keeps white space inside an annotation ("replace any sequence of one or
 * more consecutive ASCII whitespace characters in buffer with a single U+0020 SPACE character"), keeps empty classes
 * ("excluding any classes that are the empty string"), and forgives what follows a time ("if position now points at
 * the end of input"), all §6.4; and it gives an empty text node for a cue without text, where §6.4 makes none.
 */
const treeMayDiffer = (text: string): boolean =>
  text === "" || /<[^>]*\s(?:\s|>|$)|<[^>]*[\t\n\f]|<[^>]*\.(?:[.\s>]|$)|<\d[^>]*[^\d:.>]/.test(text);

/** What both must give alike. */
const comparable = (text: string, cues: readonly TrackCue[]): readonly TrackCue[] =>
  cues.map((cue) => ({
    ...cue,
    id: idMayDiffer(text) ? "" : cue.id,
    tree: treeMayDiffer(cue.text) ? "" : cue.tree,
  }));

/** Lone surrogates can't travel as UTF-8. */
const sound = (text: string): string => text.replace(/\p{Surrogate}/gu, "\uFFFD");

const FILES: readonly string[] = [
  ...Array.from({ length: 300 }, (_, n) => drawFile(drawsFrom(n + 1))),
  ...Array.from({ length: 400 }, (_, n) => sound(mutate(drawFile(drawsFrom(n + 50_000)), drawsFrom(n + 60_000)))),
];

describe.skipIf(BROWSER === null)(`the same as a browser's track${UNLESS_BROWSER}`, () => {
  let server: Server;
  let browser: Browser;
  let tracks: readonly (readonly TrackCue[] | null)[];

  beforeAll(async () => {
    server = createServer((request, response) => {
      const file = FILES[Number.parseInt((request.url ?? "/").slice(1), 10)];
      response.setHeader("content-type", file === undefined ? "text/html" : "text/vtt; charset=utf-8");
      response.end(file ?? "<!doctype html><title>tracks</title><body>");
    }).listen(0, "127.0.0.1");
    await once(server, "listening");
    browser = await launch();
    const page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
    tracks = await page.evaluate(loadTracks, FILES.length);
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
  });

  test("on several hundred files", () => {
    let [count, named] = [0, 0];
    FILES.forEach((text, n) => {
      const ours = inPlayOrder(parseVtt(text).cues).map(trackCueOf);
      const theirs = tracks[n] ?? [];
      expect.soft(comparable(text, theirs), JSON.stringify(text)).toEqual(comparable(text, ours));
      count += theirs.length;
      named += idMayDiffer(text) ? 0 : 1;
    });
    expect(count).toBeGreaterThan(FILES.length);
    expect(named).toBeGreaterThan(FILES.length / 3);
  });
});
