import type { SearchSegment } from "../../src/search/segment.ts";

/** A segment to be indexed, with what a test wants different. */
export const segmentWith = (own: Partial<SearchSegment>): SearchSegment => ({
  is: "segment",
  address: "/tide/2026-10-05/ferry-timetable/",
  title: "Nine sailings a week from Sollen",
  summary: "The Verrin Line has published its winter timetable.",
  kind: "package",
  kindName: "Package",
  episode: "2026-10-05",
  aired: "2026-10-05T18:30:00+01:00",
  position: 1,
  language: "en-GB",
  topics: ["transport"],
  places: ["Sollen"],
  named: [],
  roles: { "Ilse Marrane": "reporter" },
  paragraphs: [
    { id: "t=70", words: "First tonight, the ferries", speaker: "Tovar Quenby" },
    { id: "t=94", words: "Half past eight on the slip", speaker: null },
    { id: "t=221", words: "This winter eleven sailings a week will leave Sollen.", speaker: "Ilse Marrane" },
  ],
  corrections: [],
  strip: null,
  ...own,
});
