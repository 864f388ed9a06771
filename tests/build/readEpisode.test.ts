import { afterEach, expect, test, vi } from "vitest";
import { siteDay } from "../../src/build/day.ts";
import { seeEpisode } from "../../src/build/readEpisode.ts";
import { listEpisodes, readEpisodeSources, readProgrammeSources } from "../../src/read/folder.ts";
import { parseProgramme } from "../../src/read/programme.ts";

const CONTENT = "content";
const NOW = "2026-12-01T12:00:00.000Z";
const { programme } = parseProgramme(readProgrammeSources(CONTENT).sources);
const { episodes } = listEpisodes(CONTENT);

afterEach(() => vi.restoreAllMocks());

test("there are episodes to read", () => {
  expect(episodes.length).toBeGreaterThan(1);
});

test.each(episodes)("a build reads the record of $id once, and the scan once more by itself", (folder) => {
  if (programme === null) throw new Error("no programme");
  const day = siteDay("2026-11-30", new Date(NOW), programme.timezone);
  if (day === null) throw new Error("no day");
  const { sources, findings } = readEpisodeSources(CONTENT, folder);
  const record = Buffer.from(sources.record?.bytes ?? []).toString("utf8");
  const parse = vi.spyOn(JSON, "parse");
  const { shown } = seeEpisode(sources, findings, { programme, day, drafts: false, now: NOW }, record);
  const parsed = parse.mock.calls.map(([text]) => text);
  const lines = record.split("\n").slice(0, -1);
  expect(lines.length).toBeGreaterThan(1);
  for (const line of lines) expect(parsed.filter((text) => text === line)).toHaveLength(2);
  expect(shown?.history).toHaveLength(lines.length);
});
