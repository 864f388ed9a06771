import type { Page, PageKind } from "../pages/types.ts";

/**
 * Sets pages with the templates and writes them below `out`. Each template takes the pages of its kind from
 * `pages.<kind>`. @param templates the folder of the templates. @throws when a template fails: that is a fault of ours.
 */
export async function writePages(pages: readonly Page[], templates: string, out: string): Promise<void> {
  // Loaded here: a build that has nothing to set must not wait for it.
  const { default: Eleventy } = await import("@11ty/eleventy");
  const byKind = noPages();
  for (const page of pages) byKind[page.kind].push(page);
  const eleventy = new Eleventy(templates, out, {
    quietMode: true,
    config(config) {
      config.addExtension(["11ty.tsx"], { key: "11ty.js" });
      config.addTemplateFormats("11ty.tsx");
      config.setUseGitIgnore(false);
      config.addGlobalData("pages", byKind);
    },
  });
  eleventy.disableLogger();
  await eleventy.write();
}

/** A template must be given a list of its pages, if an empty one. */
function noPages(): Record<PageKind, Page[]> {
  return {
    home: [],
    episode: [],
    segment: [],
    corrections: [],
    correction: [],
    search: [],
    year: [],
    leaflet: [],
    record: [],
    missing: [],
    "order-sheet": [],
  };
}
