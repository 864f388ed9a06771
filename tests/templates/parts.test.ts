import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Page } from "../../src/pages/types.ts";
import { FRAMED_KINDS } from "../../src/station/folder.ts";
import { setParts } from "../../templates/documents.tsx";
import { FULL } from "./setting.ts";

const GUIDE = readFileSync(join(import.meta.dirname, "../../src/station/README.md"), "utf8");
/** The table of kinds and their parts, as a station reads it. */
const TOLD = new Map(
  [...GUIDE.matchAll(/^\| (`[^|]+`) +\| ([a-z, -]+?) +\|$/gm)].flatMap(([, kinds = "", parts = ""]) =>
    [...kinds.matchAll(/`(\w+)`/g)].map(([, kind = ""]) => [kind, parts.split(", ")] as const),
  ),
);

test.each(FRAMED_KINDS)("a station is told of the parts of %s, in their order", (kind) => {
  const parts = setParts({ kind, path: "", page: FULL[kind] } as Page);
  expect(TOLD.get(kind)).toEqual(Object.keys(parts?.main ?? {}));
});
