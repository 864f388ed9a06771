import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { buildSite } from "../../src/build/build.ts";
import { type Serving, serve } from "../../src/desk/serve.ts";
import { siteHeaders } from "../../src/model/policy.ts";

export const CONTENT = fileURLToPath(new URL("../../content/", import.meta.url));
/** A day on which one of the three broadcasts still holds sound that is withheld. */
const ON = "2026-10-09";

/** The demo, built and served as a reader gets it. */
export interface Demo {
  readonly url: string;
  readonly folder: string;
  /** Every page, as a path of the site. */
  readonly pages: readonly string[];
  close(): Promise<void>;
}

/** Builds a site into a folder of its own and serves it with its policies. @param own a station's folder; null: as the content says. */
export async function openDemo(content: string = CONTENT, own: string | null = null): Promise<Demo> {
  const place = await mkdtemp(join(tmpdir(), "demo-"));
  const folder = join(place, "site");
  const { base, mediaHosts, site, findings } = await buildSite({
    content,
    out: folder,
    own,
    on: ON,
    // After the last entry of the records: a record from the future blocks a build.
    now: new Date("2026-10-12T20:00:00Z"),
    drafts: true,
  });
  if (site === null) throw new Error(`The demo does not build: ${JSON.stringify(findings, null, 2)}`);
  const serving: Serving = await serve({ folder, base, port: 0, headers: siteHeaders(mediaHosts) });
  const files = await readdir(folder, { recursive: true, withFileTypes: true });
  const pages = files
    .filter((file) => file.isFile() && file.name === "index.html")
    .map((file) => relative(folder, file.parentPath))
    .map((path) => (path === "" ? "" : `${path}/`))
    .sort();
  return {
    url: serving.url,
    folder,
    pages,
    async close() {
      await serving.close();
      await rm(place, { recursive: true, force: true });
    },
  };
}
