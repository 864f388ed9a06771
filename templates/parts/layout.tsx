import { type ComponentChildren, Fragment, h } from "preact";
import { renderToString } from "preact-render-to-string";
import type { PageBase, PageParts, Site } from "../../src/pages/types.ts";
import { Glyph, Sprite } from "./glyph.tsx";
import { Head, type HeadExtras } from "./head.tsx";
import { direction } from "./text.ts";

/** A page as its template gives it. */
export interface Sheet extends HeadExtras {
  /** The address of the navigation's or the footer's entry that this page is; null for none. */
  readonly here: string | null;
  /** Classes of the sheet: which page this is. */
  readonly sheet: string;
  /** Where the skip link goes, when the words begin further down. */
  readonly skip?: { readonly href: string; readonly title: string };
  /** What stands on the sheet, by the names by which a station's own templates may place it. */
  readonly main: Readonly<Record<string, ComponentChildren>>;
}

/** A whole page in its parts. */
export function partsOf(page: PageBase, { here, sheet, skip, main, ...extras }: Sheet): PageParts {
  const { site } = page;
  const { href, title } = skip ?? { href: "#page.content", title: "Skip to the content" };
  return {
    root: renderToString(<html lang={site.language} dir={direction(site.language)} />).replace("</html>", ""),
    head: renderToString(<Head page={page} {...extras} />),
    opening: renderToString(
      <>
        <Sprite />
        <a class="skip" href={href}>
          {title}
        </a>
      </>,
    ),
    masthead: renderToString(<Masthead site={site} here={here} />),
    sheet,
    main: Object.fromEntries(
      Object.entries(main).map(([name, part]) => [name, renderToString(h(Fragment, null, part))]),
    ),
    footer: renderToString(<Footer site={site} here={here} />),
  };
}

/** The text of a page's file, as it is without a station's own templates. */
export const inDefaultFrame = ({ root, head, opening, masthead, sheet, main, footer }: PageParts): string =>
  `<!DOCTYPE html>${root}<head>${head}</head><body>${opening}${masthead}` +
  `<main class="sheet ${sheet}" id="page.content">${Object.values(main).join("")}</main>${footer}</body></html>`;

interface FrameProps {
  readonly site: Site;
  readonly here: string | null;
}

const current = (href: string, here: string | null) => (href === here ? "page" : undefined);

function Masthead({ site, here }: FrameProps) {
  const entries = [
    { title: "Latest", href: site.home },
    { title: "Archive", href: site.archive },
    { title: "Corrections", href: site.corrections },
    { title: "Search", href: site.search },
  ];
  return (
    <header class="masthead">
      <div class="masthead-in">
        <a class="programme" href={site.home}>
          {site.programme}
        </a>
        <nav class="site-nav" aria-label="Site">
          <ul>
            {entries.map(({ title, href }) => (
              <li key={href}>
                <a href={href} aria-current={current(href, here)}>
                  {title}
                </a>
              </li>
            ))}
          </ul>
        </nav>
      </div>
    </header>
  );
}

function Footer({ site, here }: FrameProps) {
  return (
    <footer class="colophon">
      <div class="colophon-in">
        <p>
          <b>{site.programme}</b>
          {site.slotLine !== null && ` ${site.slotLine}`}
        </p>
        <ul>
          {site.textPages.map(({ title, href }) => (
            <li key={href}>
              <a href={href} aria-current={current(href, here)}>
                {title}
              </a>
            </li>
          ))}
          <li>
            <a href={site.record} aria-current={current(site.record, here)}>
              The record and its checksums
            </a>
          </li>
          <li>
            <a href={site.notices}>Fonts and software of others</a>
          </li>
          {site.reports !== null && (
            <li>
              <a href={site.reports}>Report an error</a>
            </li>
          )}
          {site.follow.map(({ title, href }) => (
            <li key={href}>
              <a href={href}>Follow {title}</a>
            </li>
          ))}
        </ul>
        <p class="made">
          <Glyph kind="afterair" /> <span>Published with Afterair</span>
        </p>
      </div>
    </footer>
  );
}
