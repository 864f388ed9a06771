import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach } from "vitest";
import { launch, type Visit, visit } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";

/** What a suite has while its tests run. */
export interface Visiting {
  readonly demo: Demo;
  readonly browser: Browser;
  /** Of the test that runs. */
  readonly seen: Visit;
}

/** A site and a browser for the suite that calls this, and a visit for each of its tests. */
export function visiting(open: () => Promise<Demo> = openDemo): Visiting {
  let demo: Demo;
  let browser: Browser;
  let seen: Visit;
  beforeAll(async () => {
    [demo, browser] = await Promise.all([open(), launch()]);
  });
  afterAll(async () => {
    await Promise.all([browser?.close(), demo?.close()]);
  });
  beforeEach(async () => {
    seen = await visit(browser);
  });
  afterEach(() => seen.close());
  return {
    get demo() {
      return demo;
    },
    get browser() {
      return browser;
    },
    get seen() {
      return seen;
    },
  };
}
