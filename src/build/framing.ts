import { servedAt } from "../model/address.ts";
import type { Page, PageParts } from "../pages/types.ts";
import type { EpisodeData } from "../station/contract.ts";
import type { Engine, EngineSetup } from "../station/engine.ts";

/** Is told what a station's templates are at work on, and null when they are done: whoever waits must know when they hang. */
export type At = (what: string | null) => void;

/**
 * Puts a page of an episode into a station's templates. Whoever has set the last one says so, by `at(null)`.
 * @param episode what they are given of it.
 */
export type EpisodeFrame = (page: Page, parts: PageParts, episode: EpisodeData) => Promise<string>;

let opened: { readonly key: string; readonly engine: Promise<Engine> } | null = null;

/** The engine of this process: for one setup, it is opened once. */
async function engineFor(setup: EngineSetup): Promise<Engine> {
  const key = JSON.stringify(setup);
  if (opened?.key === key) return opened.engine;
  const { openEngine } = await import("../station/engine.ts");
  opened = { key, engine: openEngine(setup) };
  return opened.engine;
}

/** What sets an episode's pages within a station's templates. @throws StationFault, at the first page that can't be set. */
export async function episodeFrame(setup: EngineSetup, at: At): Promise<EpisodeFrame> {
  const { templateAround } = await import("../station/folder.ts");
  const { StationFault } = await import("../station/stationFault.ts");
  const { lostFinding, templateFault } = await import("../station/faults.ts");
  const { lostParts } = await import("../station/marks.ts");
  const { withContent } = await import("../station/framedPage.ts");
  const { station } = setup;
  const { folder = "", configName = null } = station ?? {};
  const templateOf = (kind: string) => (station === null ? "" : templateAround(station, kind));
  let isOpen = false;
  return async (page, parts, episode) => {
    const { kind, path } = page;
    const { title, description } = "title" in page.page ? page.page : { title: "", description: "" };
    const segment = kind === "segment" ? episode.segments.find(({ url }) => url === `/${servedAt(path)}`) : undefined;
    const data = { title, description, episode, ...(segment === undefined ? {} : { segment }) };
    // To begin with, the configuration is at work.
    const template = () => (isOpen ? templateOf(kind) : (configName ?? templateOf(kind)));
    at(template());
    try {
      const engine = await engineFor(setup);
      isOpen = true;
      at(template());
      const framed = withContent({ kind, path, url: `/${servedAt(path) ?? path}`, parts, data });
      const html = await engine.set(framed);
      const lost = lostParts(framed, html);
      if (lost.length > 0) throw new StationFault(lostFinding(folder, templateOf(kind), path, lost));
      return html;
    } catch (error) {
      if (error instanceof StationFault) throw error;
      throw new StationFault(templateFault(error, folder, template()));
    }
  };
}
