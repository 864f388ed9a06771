import type { WalkPage } from "../../src/pages/types.ts";
import { figures, plural } from "./text.ts";

/** Where one may go on in the archive: beside a page's words, as the years of it are. */
export const WaysOn = ({ ways }: Pick<WalkPage, "ways">) => (
  <>
    {ways.length > 0 && (
      <aside class="rail-note" aria-label="Ways on">
        {ways.map(({ title, links }) => (
          <nav class="years-nav" aria-label={title} key={title}>
            <h2>{title}</h2>
            <ol>
              {links.map(({ title: name, href, count, current }) => (
                <li key={href}>
                  <a href={href} aria-current={current ? "page" : undefined}>
                    {name}
                  </a>{" "}
                  {count !== null && (
                    <span>
                      {figures(count)}
                      <span class="vh"> {plural(count, "segment")}</span>
                    </span>
                  )}
                </li>
              ))}
            </ol>
          </nav>
        ))}
      </aside>
    )}
  </>
);
