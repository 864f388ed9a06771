import type { LeafletPage } from "../../src/pages/types.ts";
import { Layout } from "../parts/layout.tsx";

/** A page written by hand. */
export const Leaflet = ({ page }: { readonly page: LeafletPage }) => (
  <Layout page={page} here={page.here} sheet="leaflet-page">
    <header class="page-head">
      <h1>{page.heading}</h1>
      {page.summary !== null && <p class="standfirst">{page.summary}</p>}
    </header>
    <div class="prose" dangerouslySetInnerHTML={{ __html: page.html }} />
  </Layout>
);
