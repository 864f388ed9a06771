import type { NotFoundPage } from "../../src/pages/types.ts";
import { Finder } from "../parts/finder.tsx";
import type { Sheet } from "../parts/layout.tsx";

/** What stands at an address that holds nothing. */
export const missingSheet = (page: NotFoundPage): Sheet => ({
  here: null,
  sheet: "missing-page",
  listed: false,
  main: {
    heading: (
      <header class="page-head">
        <p class="dateline">404</p>
        <h1>Nothing stands at this address</h1>
        <p class="standfirst">
          The address may be mistyped, or what stood here has moved. What is withdrawn keeps its page, with a note that
          says so.
        </p>
      </header>
    ),
    finder: <Finder action={page.site.search} hint={null} />,
    ways: (
      <ul class="ways">
        <li>
          <a href={page.site.home}>The latest edition</a>
        </li>
        <li>
          <a href={page.site.archive}>The archive, by year</a>
        </li>
        <li>
          <a href={page.site.corrections}>The log of corrections</a>
        </li>
      </ul>
    ),
  },
});
