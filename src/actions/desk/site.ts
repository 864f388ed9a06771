import { buildSite } from "../../build/build.ts";
import type { DeskAudit, DeskProgress } from "../../model/desk.ts";
import { auditContent } from "../audit.ts";
import { firstFault } from "./firstFault.ts";

/** The content, where its site is, and the moment. */
export interface SiteAt {
  readonly content: string;
  readonly out: string;
  readonly now: Date;
}

/** Builds the site, in the place of the last one or not at all. */
export async function deskBuild({ content, out, now }: SiteAt): Promise<DeskProgress> {
  const { findings, site } = await buildSite({ content, out, on: null, now, drafts: false });
  if (site === null) return { is: "failed", says: `The site is as it was. ${firstFault(findings) ?? ""}`.trim() };
  return { is: "done", says: `The site is built: ${site.episodes} episodes, ${site.pages} pages in ${out}.`, to: null };
}

/** Whether nothing that is published changed in silence, as one line. */
export async function deskAudit({ content, out, now }: SiteAt): Promise<DeskAudit> {
  const { findings, published } = await auditContent({ content, episodes: [], against: null, site: out }, now);
  const fault = firstFault(findings);
  return fault === null
    ? { isSound: true, says: `Published: ${published}. Nothing of them changed in silence.` }
    : { isSound: false, says: fault };
}
