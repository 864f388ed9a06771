import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect } from "vitest";
import { openDesk } from "../../src/desk/desk.ts";
import type { Serving } from "../../src/desk/serve.ts";
import { nodeFiles } from "../../src/write/files.ts";
import { withoutOwn } from "../support/site.ts";
import { barriers } from "./barriers.ts";
import { launch, type Visit, visit } from "./chromium.ts";
import { CONTENT } from "./demo.ts";

/** Waits until something is as it is expected: as long as a busy machine may take. */
export const soon = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 20_000 });

/** A desk over a copy of the demo, and a page at it, while a suite runs. */
export interface AtDesk {
  /** A folder of the suite's own, with the content in it. */
  readonly place: string;
  readonly content: string;
  readonly desk: Serving;
  readonly browser: Browser;
  readonly own: Visit;
  /** Opens a page of the desk, and waits for what it asks for. */
  goTo(path: string, page?: Page): Promise<void>;
  /** Stops the server. */
  away(): Promise<void>;
  /** Starts it again. @param port where it was; left out: anywhere. */
  back(port?: number): Promise<void>;
  /** A file of an episode, as text. */
  file(id: string, name: string): Promise<string>;
}

interface Setting {
  /** What the clock of the desk says. */
  readonly now: string;
  /** Changes the content before the desk is opened. */
  prepare?(): Promise<void>;
}

/** A desk, a browser and a page for the suite that calls this. */
export function atDesk({ now, prepare }: Setting): AtDesk {
  let place: string;
  let desk: Serving;
  let browser: Browser;
  let own: Visit;
  const content = () => join(place, "content");
  const open = (port: number) =>
    openDesk({
      content: content(),
      out: join(place, "site"),
      cache: join(place, "cache"),
      world: { clock: () => new Date(now), files: nodeFiles },
      listen: null,
      port,
    });
  beforeAll(async () => {
    place = await mkdtemp(join(tmpdir(), "desk-"));
    await cp(CONTENT, content(), { recursive: true });
    const programme = join(content(), "programme.md");
    await writeFile(programme, withoutOwn(await readFile(programme, "utf8")));
    await prepare?.();
    [desk, browser] = await Promise.all([open(0), launch()]);
    own = await visit(browser);
  });
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    await rm(place, { recursive: true, force: true });
  });
  return {
    get place() {
      return place;
    },
    get content() {
      return content();
    },
    get desk() {
      return desk;
    },
    get browser() {
      return browser;
    },
    get own() {
      return own;
    },
    async goTo(path, page = own.page) {
      await page.goto(desk.url + path);
      await page.waitForLoadState("networkidle");
    },
    away: () => desk.close(),
    async back(port = 0) {
      desk = await open(port);
    },
    file: (id, name) => readFile(join(content(), "episodes", id.slice(0, 4), id, name), "utf8"),
  };
}

/** The page that is open has no fault that axe finds, and is no wider than its window. @param why for the message. */
export async function expectSound(page: Page, why: string): Promise<void> {
  expect(await barriers(page, { rules: {} }), why).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), why).toBe(true);
}
