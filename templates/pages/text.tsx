import type { TextPageData } from "../../src/pages/types.ts";
import { Layout } from "../parts/layout.tsx";

/** A page written by hand. */
export const TextPage = ({ page }: { readonly page: TextPageData }) => (
  <Layout page={page} here={page.here} sheet="leaflet-page">
    <header class="page-head">
      <h1>{page.heading}</h1>
      {page.summary !== null && <p class="standfirst">{page.summary}</p>}
    </header>
    <div class="prose" dangerouslySetInnerHTML={{ __html: page.html }} />
  </Layout>
);
