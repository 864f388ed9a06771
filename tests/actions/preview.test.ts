import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { buildOnChange } from "../../src/actions/preview.ts";
import type { Built } from "../../src/build/build.ts";
import { type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

test("a preview is built again when a file changes, and says what stands in the way", { timeout: 60_000 }, async () => {
  const options = { content: on.content, out: join(on.content, "../site"), on: null };
  const { first, watch } = await buildOnChange(options);
  // The stage's recording is on a host that its programme does not name.
  expect(first.site).toBeNull();
  // Again and again: until the watcher sees all of the folder, a change may be one that was there before.
  const writing = setInterval(() => appendFileSync(join(on.content, "programme.md"), "\n"), 300);
  const rebuilt = new Promise<Built>((resolve, reject) => {
    const end = watch({
      built: (built) => {
        clearInterval(writing);
        void end().then(() => resolve(built));
      },
      failed: reject,
    });
  });
  expect((await rebuilt).findings.map(({ rule }) => rule)).toEqual(first.findings.map(({ rule }) => rule));
});
