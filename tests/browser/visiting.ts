import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach } from "vitest";
import { launch, type Visit, visit } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";

/** What a suite has while its tests run. */
export interface Opened {
  readonly demo: Demo;
  readonly browser: Browser;
}
export interface Visiting extends Opened {
  /** Of the test that runs. */
  readonly seen: Visit;
}

/** A site and a browser for the suite that calls this. */
export function opening(open: () => Promise<Demo> = openDemo): Opened {
  let demo: Demo;
  let browser: Browser;
  beforeAll(async () => {
    [demo, browser] = await Promise.all([open(), launch()]);
  });
  afterAll(async () => {
    await Promise.all([browser?.close(), demo?.close()]);
  });
  return {
    get demo() {
      return demo;
    },
    get browser() {
      return browser;
    },
  };
}

/** The same, and a visit for each of its tests. */
export function visiting(open?: () => Promise<Demo>): Visiting {
  const opened = opening(open);
  let seen: Visit;
  beforeEach(async () => {
    seen = await visit(opened.browser);
  });
  afterEach(() => seen.close());
  return {
    get demo() {
      return opened.demo;
    },
    get browser() {
      return opened.browser;
    },
    get seen() {
      return seen;
    },
  };
}
