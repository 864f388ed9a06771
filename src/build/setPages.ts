import { type Addresses, absolute, href, servedAt } from "../model/address.ts";
import type { Finding } from "../model/finding.ts";
import type { Page, Site } from "../pages/types.ts";
import type { NamedName, YearEntry } from "../station/contract.ts";
import type { EngineSetup } from "../station/engine.ts";
import { lostFinding, templateFault } from "../station/faults.ts";
import { templateAround } from "../station/folder.ts";
import { type OwnPage, type Ran, type Run, runEngine } from "../station/run.ts";
import { loadDocuments } from "../write/pages.ts";
import type { At } from "./framing.ts";
import { readListings } from "./state.ts";
import { yearData } from "./stationData.ts";
import { inAirOrder } from "./years.ts";

/** Pages of the site and of the station's folder that are to be set in one run. Plain data. */
export interface SetRequest {
  readonly setup: EngineSetup;
  readonly documents: string;
  readonly pages: readonly Page[];
  readonly site: Site;
  readonly addresses: Addresses;
  readonly archive: PlainArchive;
  readonly due: Run["due"];
}

/** The archive for a station's templates, in a form that goes from process to process. */
export interface PlainArchive {
  /** Newest first. `state`: where what is known of it is kept. */
  readonly years: readonly { readonly entry: YearEntry; readonly digest: string; readonly state: string }[];
  readonly names: Readonly<Record<NamedName, readonly string[]>>;
}

export interface SetResult {
  readonly ran: Ran | null;
  readonly findings: readonly Finding[];
}

/** Sets pages by the site engine, into a folder of their own. Meant for a process of its own, in the station's folder. */
export async function setPages(request: SetRequest, at: At): Promise<SetResult> {
  const { setup, site, addresses, archive } = request;
  const { station } = setup;
  const folder = station?.folder ?? "";
  const { setParts } = await loadDocuments(request.documents);
  const pages = request.pages.map((page): OwnPage => {
    const { title, description } = "title" in page.page ? page.page : { title: "", description: "" };
    return {
      kind: page.kind,
      path: page.path,
      url: `/${servedAt(page.path) ?? page.path}`,
      data: { title, description },
      parts() {
        const parts = setParts(page);
        if (parts === null) throw new Error(`${page.path} has no parts.`);
        return parts;
      },
    };
  });
  let last = station === null ? "" : (station.configName ?? templateAround(station, "own"));
  try {
    if (station !== null) at(last);
    const ran = await runEngine({
      setup,
      pages,
      archive: {
        names: archive.names,
        years: archive.years.map(({ entry, digest, state }) => {
          const read = () =>
            yearData(
              inAirOrder(readListings(state)).map(({ listing }) => listing),
              addresses,
            );
          return { entry, digest, read };
        }),
      },
      due: request.due,
      at(what) {
        last = what;
        at(what);
      },
      frameOf({ title, description, path, html }) {
        const served = servedAt(path) ?? path;
        const heading = /<h1[\s>]/i.test(html) ? null : title;
        const base = {
          site,
          title: title ?? site.programme,
          description: description ?? site.programme,
          structured: null,
        };
        const page = { ...base, heading, html, canonical: absolute(addresses, served), here: href(addresses, served) };
        const parts = setParts({ kind: "own", path, page });
        if (parts === null) throw new Error(`${path} has no parts.`);
        return parts;
      },
    });
    const findings = ran.lost.map(({ path, parts, by }) => {
      const kind = pages.find((page) => page.path === path)?.kind ?? "own";
      return lostFinding(folder, station === null ? by : templateAround(station, kind), path, parts);
    });
    return { ran, findings };
  } catch (error) {
    if (station === null) throw error;
    return { ran: null, findings: [templateFault(error, folder, last)] };
  } finally {
    at(null);
  }
}
