import type { PageBase } from "../../src/pages/types.ts";

export interface HeadExtras {
  /** Small style sheets of this page alone. */
  readonly sheets?: readonly string[];
  /** The module script of this page. */
  readonly script?: string;
  /** `og:type`. */
  readonly type?: "website" | "article" | "video.episode";
  /** False keeps the page out of search engines, and without an address of its own. */
  readonly listed?: boolean;
}

/** Everything between `<head>` and `</head>`. No inline script but JSON-LD, which is data; nothing from elsewhere. */
export function Head({ page, sheets = [], script, type = "website", listed = true }: HeadExtras & { page: PageBase }) {
  const { site, title, description, canonical, structured, alternates = [] } = page;
  return (
    <>
      <meta charset="utf-8" />
      {/* before everything that it rules over */}
      <meta http-equiv="Content-Security-Policy" content={site.policy} />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <title>{title === site.programme ? title : `${title}: ${site.programme}`}</title>
      <meta name="description" content={description} />
      <meta name="color-scheme" content="light dark" />
      <meta name="theme-color" content="#F4F8F3" media="(prefers-color-scheme: light)" />
      <meta name="theme-color" content="#0F1714" media="(prefers-color-scheme: dark)" />
      {site.assets.fonts.map((font) => (
        <link key={font} rel="preload" href={font} as="font" type="font/woff2" crossorigin="anonymous" />
      ))}
      <link rel="stylesheet" href={site.assets.style} />
      <link rel="stylesheet" href={site.assets.print} media="print" />
      {sheets.map((sheet) => (
        <link key={sheet} rel="stylesheet" href={sheet} />
      ))}
      <link rel="icon" href={site.assets.mark} type="image/svg+xml" />
      {listed ? <link rel="canonical" href={canonical} /> : <meta name="robots" content="noindex" />}
      {alternates.map(({ title: name, href, type: kind }) => (
        <link key={href} rel="alternate" href={href} type={kind} title={name} />
      ))}
      <meta property="og:title" content={title} />
      <meta property="og:type" content={type} />
      {listed && <meta property="og:url" content={canonical} />}
      <meta property="og:site_name" content={site.programme} />
      <meta property="og:description" content={description} />
      {structured !== null && <script type="application/ld+json" dangerouslySetInnerHTML={{ __html: structured }} />}
      {script !== undefined && <script type="module" src={script} />}
    </>
  );
}
