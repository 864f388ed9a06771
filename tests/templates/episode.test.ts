import { describe, expect, test } from "vitest";
import type { EpisodePage, SegmentView, Withheld } from "../../src/pages/types.ts";
import { EPISODE, item, line, note, ORDER, plain, segment, withheld } from "./episode.ts";
import { SEGMENT } from "./pages.ts";
import { guessed, SET } from "./setting.ts";

const whole = SET.episode(EPISODE);
const withSegment = (own: SegmentView, changes: Partial<EpisodePage> = {}): string =>
  SET.episode({ ...EPISODE, headNotes: [], segments: [own], corrections: [], ...changes });
/** What people read: no markup, one space between words. */
const text = (html: string): string =>
  html
    .replace(/<[^>]+>/g, "")
    .replace(/\s+/g, " ")
    .trim();
const between = (html: string, from: string, to: string): string => html.split(from)[1]?.split(to)[0] ?? "";
const count = (html: string, what: string | RegExp): number => html.split(what).length - 1;

describe("words", () => {
  test("each cue carries its moment to the millisecond, and none where the recording lacks it", () => {
    expect(whole).toContain('<span class="cue" data-in="70.480">First tonight, the ferries.</span>');
    expect(whole).toContain('<p class="words" id="aired=820"><span class="cue">Nothing to play here.</span></p>');
  });

  test("the time beside a paragraph links to its moment", () => {
    expect(whole).toContain(
      '<p class="words" id="t=220"><a class="stamp" href="#t=220"><span class="vh">From </span><time datetime="PT3M40S">3:40</time></a> ',
    );
  });

  test("a speaker's role stands at the first turn, and who is not named is said not to be", () => {
    expect(whole).toContain('<p class="speaker"><b dir="auto">Ilse Marrane</b><span class="role"> reporter</span></p>');
    expect(whole).toContain('<p class="speaker"><b dir="auto">Edda Korrin</b></p>');
    expect(whole).toContain('<p class="speaker"><span class="unnamed">Speaker not named</span></p>');
  });

  test("what is heard but not said is told apart", () => {
    expect(whole).toContain(
      '<p class="sound" id="t=86"><span class="vh">Sound: </span>Ferry horn. The ramp comes down.</p>',
    );
  });

  test("words in another language say which", () => {
    expect(whole).toContain('<span lang="cy" dir="auto">yna yn Gymraeg</span>');
    expect(whole).toContain('<span lang="ar" dir="auto">مساء الخير</span>');
  });
});

describe("what is only proposed", () => {
  const draft = { draft: true, proposals: { speakers: 3, points: 2, cuts: 0 } };
  const html = withSegment(guessed(segment("ferry-timetable")), draft);

  test("is said in words: of a speaker after the name and the role, of an in point at the segment's head", () => {
    expect(text(between(html, '<p class="speaker">', "</p>"))).toBe("Tovar Quenby presenter, proposed");
    expect(text(between(html, '<span class="slate-kind">', "</p>"))).toMatch(/^Package, 6:15, in point proposed /);
    const unnamed = { ...segment("a"), blocks: [{ is: "turn", speaker: null, paragraphs: [] }] as const };
    expect(text(between(withSegment(unnamed), '<p class="speaker">', "</p>"))).toBe("Speaker not named");
  });

  test("stands in the running order and beside the speaking time", () => {
    const order = { ...ORDER, items: [{ ...item("ferry-timetable"), proposed: true, correctionCount: 1 }] };
    const shares = EPISODE.shares.map((share, n) => ({ ...share, proposed: n === 0 }));
    const page = SET.episode({ ...EPISODE, ...draft, order, shares });
    const row = between(page, '<li class="order-item"', "</li>").split('class="kind"')[1];
    expect(text(`<span${row}`)).toBe("Package, 6:15, in point proposed 1 correction");
    expect(text(page)).toContain("Ilse Marrane, proposed 2:28");
    expect(text(page)).toContain("Tovar Quenby 1:19");
  });

  test.each([
    [{ speakers: 3, points: 2, cuts: 0 }, "3 speakers and 2 in points are proposed: confirm them before publishing."],
    [{ speakers: 1, points: 1, cuts: 1 }, "1 speaker, 1 in point and 1 cut are proposed: confirm them before"],
    [{ speakers: 0, points: 1, cuts: 0 }, "1 in point is proposed: confirm it before publishing."],
    [{ speakers: 4, points: 0, cuts: 0 }, "4 speakers are proposed: confirm them before publishing."],
    [null, ""],
  ])("is counted at the head of the page: %j", (proposals, says) => {
    const note = "Draft. This edition is not published: it is in no list, feed or search of the public site.";
    for (const page of [
      SET.episode({ ...EPISODE, draft: true, proposals }),
      SET.segment({ ...SEGMENT, draft: true, proposals }),
    ]) {
      const said = text(between(page, '<div class="draft-note" role="note">', "</div>"));
      expect(said.startsWith(`${note}${says}`)).toBe(true);
      if (proposals === null) expect(said).toBe(note);
    }
  });

  test("is nowhere on a page that is published", () => {
    for (const page of [whole, SET.segment(SEGMENT)]) expect(page).not.toMatch(/proposed|draft-note/);
  });
});

describe("corrections in the words", () => {
  test.each([
    ["on-air", 1, "span"],
    ["transcript", 2, "ins"],
    ["page", 3, "ins"],
    ["clarification", 4, "span"],
    ["update", 5, "span"],
  ])("%s: its words are marked, numbered and lead to the note", (kind, number, element) => {
    const words = between(whole, `id="mark-${number}"`, "</p>");
    expect(words).toMatch(
      new RegExp(`^ data-kind="${kind}" data-nth="1" data-note="note-${number}">the words of ${kind}</${element}>`),
    );
    expect(words).toContain(`<a class="mark-ref" href="#note-${number}" aria-label="See note ${number}: `);
  });

  test("the note comes right after its paragraph and leads back to the words", () => {
    expect(whole).toMatch(/and after\.<\/span><\/p><div class="margin-note" role="note" id="note-1"/);
    expect(between(whole, 'id="note-1"', "</div><span")).toContain(
      '<a class="note-no" href="#mark-1" aria-label="Note 1, back to the words">1</a>',
    );
  });

  test("a mark over several cues is opened once and numbered once, at its end", () => {
    const words = between(whole, 'id="t=200"', "</p>");
    expect(count(words, 'id="mark-96"')).toBe(1);
    expect(count(words, 'class="mark" ')).toBe(3);
    expect(count(words, 'href="#note-96"')).toBe(1);
    expect(words).toMatch(/ends here<\/span>(?:<\/span>)*<a class="mark-ref" [^>]*data-number="96"><\/a>/);
    expect(text(`<p${words}`)).toBe("From 3:20 It begins here and yna yn Gymraeg and ends here, then مساء الخير");
  });

  test("each of a paragraph's marks finds its own note", () => {
    expect(whole).toMatch(/id="mark-96" data-kind="clarification" data-nth="1"/);
    expect(whole).toMatch(/id="mark-97" data-kind="update" data-nth="2"/);
    expect(whole).toMatch(/id="note-97" aria-labelledby="note-97.kind" data-kind="update" data-nth="2"/);
  });

  test("a replaced text shows what stood there, and what stands there now", () => {
    const body = between(whole, 'id="note-2"', '<p class="note-foot">');
    expect(body).toContain("<dt>Was</dt><dd><del>fourteen tonnes</del></dd>");
    expect(body).toContain("<dt>Now</dt><dd><ins>forty tonnes</ins></dd>");
    expect(between(whole, 'id="note-1"', '<p class="note-foot">')).not.toContain("<del>");
  });

  test("a note whose place was taken says by which", () => {
    expect(text(between(whole, 'id="note-2"', '<p class="note-foot">'))).toContain(
      "Its place was taken by 2026-10-07-1.",
    );
  });

  test("a note that no words carry stands after the head, without a way back", () => {
    expect(whole).toMatch(/<\/header><div class="margin-note" role="note" id="note-98"/);
    expect(between(whole, 'id="note-98"', "</p>")).toContain(
      '<span class="note-no"><span class="vh">Note </span>98</span>',
    );
  });
});

describe("corrections at the head", () => {
  test.each([
    [1, "One correction", "It is dated, and stays here."],
    [3, "Three corrections", "Each is dated, and stays here."],
    [13, "13 corrections", "Each is dated, and stays here."],
  ])("%i in the box", (number, heading, sentence) => {
    const lines = Array.from({ length: number }, (_, index) => line(index + 1, "on-air", "1:40"));
    const box = between(
      SET.episode({ ...EPISODE, corrections: lines }),
      '<details class="fold"><summary><h2 id="page.corrections">',
      "</details>",
    );
    expect(text(`<p>${box}`)).toMatch(new RegExp(`^${heading} ?Made since this episode was broadcast. ${sentence}`));
  });

  test("no box where there is nothing to correct", () => {
    expect(SET.episode({ ...EPISODE, corrections: [] })).not.toContain("correction-summary");
  });

  test("what changes whether one reads on stands outside what opens, and once", () => {
    const lines = [line(1, "on-air", "1:40"), line(2, "withdrawal", null, "A segment is withdrawn")];
    const boxOf = (corrections: typeof lines) =>
      between(SET.episode({ ...EPISODE, corrections }), '<section class="correction-summary"', "</section>");
    const [inside = "", outside = ""] = boxOf(lines).split("</details>");
    expect(text(`<p${inside}`)).toContain("On-air error at 1:40");
    expect(inside).not.toContain("#note-2");
    expect(text(outside)).toBe("A segment is withdrawn 6 October");
    expect(boxOf(lines.slice(1))).not.toContain("<details");
    expect(text(`<p${boxOf(lines.slice(1))}`)).toMatch(/^One correction ?Made .+A segment is withdrawn 6 October$/);
  });

  test("a segment's head tells of none: its words do", () => {
    const html = withSegment(segment("one", { corrections: [line(77, "on-air", "1:40")] }));
    expect(html).not.toContain("#note-77");
  });

  test("a withdrawn segment says so, and keeps its note", () => {
    const html = withSegment(segment("one", { blocks: [], headNotes: [note(1, "withdrawal", false)] }));
    expect(html).toContain("This segment is withdrawn. Its words are gone; the note on it stays.");
    expect(html).toContain('id="note-1"');
  });

  test("a withdrawn episode has no player, no words to take, and its note", () => {
    const html = SET.episode({
      ...EPISODE,
      withdrawn: true,
      segments: [],
      shares: [],
      headNotes: [note(1, "withdrawal", false)],
    });
    expect(html).toContain("This episode is withdrawn.");
    expect(html).toContain('id="note-1"');
    expect(html).not.toMatch(/<video|download|class="share"/);
  });
});

describe("withheld", () => {
  const read = { show: "transcript" } as const;
  const cut = { from: null, to: null } as const;
  test.each<[string, Partial<Withheld>, string]>([
    [
      "until a date, nothing shown, in the recording",
      {},
      "Withheld until 1 January 2027. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound, pictures and words belong to Farwater News Agency, and we may not publish them before that date.The player steps over it, from 15:05 to 18:20 of the recording.",
    ],
    [
      "until a date, words shown, in the recording",
      read,
      "Withheld until 1 January 2027. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound and pictures belong to Farwater News Agency, and we may not publish them before that date. Its words are shown here.The player steps over it, from 15:05 to 18:20 of the recording.",
    ],
    [
      "no date, nothing shown, cut out, holder unknown",
      { ...cut, until: null, holder: null },
      "Withheld. No date is foreseen. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound, pictures and words are not ours to give, and we may not publish them.The recording does not have it: at 1:10 it goes straight on to what came after.",
    ],
    [
      "no date, words shown, cut out",
      { ...cut, ...read, until: null },
      "Withheld. No date is foreseen. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound and pictures belong to Farwater News Agency, and we may not publish them. Its words are shown here.The recording does not have it: at 1:10 it goes straight on to what came after.",
    ],
    [
      "and silenced",
      { sound: "silent" },
      "Withheld until 1 January 2027. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound, pictures and words belong to Farwater News Agency, and we may not publish them before that date.The recording is silent there, from 15:05 to 18:20.",
    ],
    [
      "and no recording at all: nothing is said of a player",
      { sound: "away" },
      "Withheld until 1 January 2027. This segment ran from 15:05 to 18:20 of the programme as aired. Its sound, pictures and words belong to Farwater News Agency, and we may not publish them before that date.",
    ],
  ])("%s", (_why, rights, says) => {
    const html = withSegment(segment("one", { withheld: withheld(rights) }));
    expect(text(between(html, '<div class="withheld">', "</div>"))).toBe(says);
  });

  test("its own page has no player to hear it with", () => {
    expect(SET.segment(SEGMENT)).toContain("<video");
    const own = { ...SEGMENT, segment: segment("one", { withheld: withheld({}) }) };
    expect(SET.segment(own)).not.toContain("<video");
  });

  test("nor has that of one for which the recording has silence, which says so", () => {
    const silent = { from: "4:22", to: "5:28" };
    const html = SET.segment({ ...SEGMENT, segment: segment("one", { silent }) });
    expect(html).not.toContain("<video");
    expect(text(html)).toContain("The recording is silent here, from 4:22 to 5:28.");
  });
});

describe("a recording that holds what may not be given", () => {
  const set = (giving: "stepped" | "off") => {
    const player = { ...EPISODE.player, giving, ...(giving === "off" ? { media: [] } : {}) };
    return [SET.episode({ ...EPISODE, player }), SET.segment({ ...SEGMENT, player })];
  };

  test("is the script's alone: nothing plays or offers it without, and the page says so", () => {
    for (const html of set("stepped")) {
      const video = between(html, "<video", "</video>");
      expect(video).not.toContain("<source");
      expect(video).not.toContain(' src="https:');
      expect(video).toMatch(/ hidden .*controlslist="nodownload"/);
      expect(video).toContain('data-media="[{&quot;src&quot;:&quot;https://media.example.org/2026-10-05.mp4&quot;');
      expect(text(html)).toContain("Where the script does not run, there is no player.");
    }
    expect(whole).not.toMatch(/data-media|data-no-player|controlslist/);
  });

  test("is nowhere while it holds what was withdrawn, and the page says so", () => {
    for (const html of set("off")) {
      expect(html).not.toMatch(/<video|media\.example\.org\/2026/);
      expect(text(html)).toContain(
        "The recording is not here: it still has the sound of something that was withdrawn.",
      );
    }
  });
});

describe("player", () => {
  test("says where its stretch is and what it steps over", () => {
    expect(whole).toContain(
      '<section class="deck with-picture" aria-label="Player" data-episode="2026-10-05" data-from="0" data-to="1680" data-runs="1680" data-skips="[{&quot;from&quot;:445,',
    );
  });

  test("is a native one, with captions and chapters of the site's own", () => {
    const video = between(whole, "<video", "</video>");
    expect(video).toMatch(/^ controls preload="metadata" playsinline poster="/);
    expect(video).toContain(
      '<track kind="captions" src="/2026-10-05/transcript.vtt" srclang="en" label="English" default',
    );
    expect(video).toContain('<track kind="chapters" src="/2026-10-05/chapters.vtt"');
    expect(video).not.toContain("autoplay");
  });

  test("opens at its stretch without script too", () => {
    expect(whole).toContain('<source src="https://media.example.org/2026-10-05.mp4" ');
    expect(SET.segment(SEGMENT)).toContain('<source src="https://media.example.org/2026-10-05.mp4#t=70" ');
  });

  test.each([
    ["caption line", '<p class="caption-line" hidden data-caption>'],
    ["note on a skip", '<p class="deck-says" hidden role="status" data-skip-note>'],
    [
      "follow button",
      '<button type="button" class="follow" data-follow hidden aria-pressed="true">Follow the words</button>',
    ],
    ["lamp on the strip", '<span class="now" hidden data-runs="1680">'],
    ["lamp in the running order", '<span class="now" hidden aria-hidden="true"><b>'],
  ])("the %s waits for the script", (_what, html) => {
    expect(count(whole, html)).toBe(1);
  });

  test("the report has a place for the moment", () => {
    expect(whole).toContain("data-report>Report an error<span data-moment></span></a>");
  });
});

describe("running order", () => {
  test("each row says its moment and length in seconds", () => {
    for (const { in: at, seconds } of ORDER.items) {
      expect(whole).toContain(` data-in="${at}" data-seconds="${seconds}"`);
    }
  });

  test.each([
    ["withheld and in the recording", "until-unseen", "Package, 6:15, withheld"],
    ["withheld and cut out", "unforeseen-cut", "Package, 6:15, withheld"],
    ["withdrawn and cut out", "taken-away", "Package, 6:15, not in the recording 1 correction"],
    ["corrected", "ferry-timetable", "Package, 6:15 8 corrections"],
    ["whose title says its kind", "headlines", "6:15"],
  ])("a row %s", (_why, slug, says) => {
    const row = between(whole, `href="/2026-10-05/#${slug}"`, "</li>");
    expect(text(`<i class="kind${between(row, 'class="kind', "</a>")}`)).toBe(says);
  });

  test("the segment whose page it is stands out", () => {
    expect(count(SET.segment(SEGMENT), 'aria-current="true"')).toBe(1);
    expect(whole).not.toContain('aria-current="true"');
  });
});

test("the longest speaker's bar is the whole width, the others in proportion", () => {
  const bars = [...whole.matchAll(/class="share-bar"[^>]*><rect width="([^"]+)"/g)].map(([, width]) => width);
  expect(bars).toEqual(["100%", "53.66%"]);
});

test("an episode may have nothing to say beside its words", () => {
  const html = withSegment(segment("one", { blocks: [], by: [], places: [], topics: [] }), { shares: [], boxes: [] });
  expect(html).not.toMatch(/class="byline"|class="log-head"|class="share"/);
});

test("a paragraph without corrections is not wrapped", () => {
  const own = segment("one", { blocks: [{ is: "turn", speaker: null, paragraphs: [plain(70, "Words.")] }] });
  expect(withSegment(own)).not.toContain('class="noted"');
});
