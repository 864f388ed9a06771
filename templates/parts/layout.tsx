import type { ComponentChildren } from "preact";
import type { PageBase, Site } from "../../src/pages/types.ts";
import { Glyph, Sprite } from "./glyph.tsx";
import { Head, type HeadExtras } from "./head.tsx";
import { direction } from "./text.ts";

interface LayoutProps extends HeadExtras {
  readonly page: PageBase;
  /** The address of the navigation's or the footer's entry that this page is; null for none. */
  readonly here: string | null;
  /** Classes of the sheet: which page this is. */
  readonly sheet: string;
  /** Where the skip link goes, when the words begin further down. */
  readonly skip?: { readonly href: string; readonly title: string };
  readonly children: ComponentChildren;
}

/** A whole page but for its doctype: head, masthead, the sheet, footer. */
export function Layout({ page, here, sheet, skip, children, ...extras }: LayoutProps) {
  const { site } = page;
  const { href, title } = skip ?? { href: "#page.content", title: "Skip to the content" };
  return (
    <html lang={site.language} dir={direction(site.language)}>
      <Head page={page} {...extras} />
      <body>
        <Sprite />
        <a class="skip" href={href}>
          {title}
        </a>
        <Masthead site={site} here={here} />
        <main class={`sheet ${sheet}`} id="page.content">
          {children}
        </main>
        <Footer site={site} here={here} />
      </body>
    </html>
  );
}

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
          <b>{site.programme}</b> {site.slotLine}
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
          <li>
            <a href={site.reports}>Report an error</a>
          </li>
        </ul>
        <p class="made">
          <Glyph kind="afterair" /> <span>Published with Afterair</span>
        </p>
      </div>
    </footer>
  );
}
