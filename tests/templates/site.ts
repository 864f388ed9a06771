import type { Day, PageBase, Site } from "../../src/pages/types.ts";

/** Text that would do harm anywhere but in text. */
export const HOSTILE = `<script>alert("1")</script><img src=x onerror='alert(2)'>`;

export const SITE: Site = {
  programme: "The Evening Tide",
  station: "Verrin Islands Broadcasting",
  language: "en",
  slotLine: "is broadcast on weeknights at 18:30 by Verrin Islands Broadcasting.",
  url: "https://tide.example.org/",
  home: "/",
  archive: "/2026/",
  corrections: "/corrections/",
  search: "/search/",
  speakers: "/speakers/",
  topics: "/topics/",
  places: "/places/",
  stories: "/stories/",
  record: "/record/",
  notices: "/assets/notices.txt",
  follow: [{ title: "the programme", href: "/feed.xml" }],
  textPages: [
    { title: "How we correct", href: "/how-we-correct/" },
    { title: "Accessibility", href: "/accessibility/" },
  ],
  reports: "mailto:corrections@tide.example.org",
  policy:
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; media-src 'self' https://media.example.org; base-uri 'none'; form-action 'self'",
  poster: {
    src: "/assets/poster.svg",
    alt: "A lighthouse across dark water, its light laid down in a path of dashes.",
  },
  assets: {
    style: "/assets/style.css",
    print: "/assets/print.css",
    mark: "/assets/mark.svg",
    fonts: [
      "/assets/fonts/petrona-latin-wght-normal.woff2",
      "/assets/fonts/atkinson-hyperlegible-next-latin-wght-normal.woff2",
    ],
    player: "/assets/player.js",
    search: "/assets/search.js",
    quote: "/assets/quote.js",
    quoteStyle: "/assets/quote.css",
    counts: "/assets/counts.js",
    suggest: "/assets/suggest.js",
    searchStyle: "/assets/finder.css",
  },
};

export const base = (title: string, path: string): PageBase => ({
  site: SITE,
  title,
  description: `${title}, as a sentence for those who look for it.`,
  canonical: SITE.url + path,
  structured: null,
});

export const MONDAY: Day = {
  iso: "2026-10-05T18:30:00+01:00",
  long: "Monday 5 October 2026",
  weekday: "Mon",
  day: "5",
  month: "Oct",
  year: "2026",
};
