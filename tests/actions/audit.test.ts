import { afterEach, beforeEach, expect, test } from "vitest";
import { auditContent } from "../../src/actions/audit.ts";
import { publishing, rules, type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

const audited = (against: string | null = null) =>
  auditContent({ content: on.content, episodes: [], against, site: null }, new Date("2026-10-10T08:00:00Z"));

test("an audit counts what is published, and finds nothing where nothing changed", async () => {
  expect(await audited()).toEqual({ findings: [], published: 0, unpublished: 1, copies: [] });
  await publishing(on);
  expect(await audited()).toEqual({ findings: [], published: 1, unpublished: 0, copies: [] });
});

test("an audit names what changed after it was published", async () => {
  await publishing(on);
  on.edit("transcript.vtt", "not fourteen", "not forty");
  const { findings, published } = await audited();
  expect(rules(findings)).toEqual(["content-changed"]);
  expect(published).toBe(1);
});
