import { z } from "zod";
import { RESERVED_SEGMENT_SLUGS } from "../model/address.ts";
import {
  CORRECTION_KINDS,
  type CorrectionKind,
  correctionKind,
  type KindThat,
  kindDoes,
} from "../model/correctionKinds.ts";
import { CAUTIONS, PAGE_FIELDS, SEGMENT_KINDS, SOUND_WORDS } from "../model/episode.ts";
import { NAME_KINDS } from "../model/programme.ts";
import { SLUG } from "../model/slugs.ts";
import { unreachable } from "../model/units.ts";
import { CaptionsShape } from "./captionFigures.ts";
import { AcceptedShape, AddressesShape, ChecksShape, WatchShape } from "./checkShapes.ts";
import {
  bad,
  field,
  type Judge,
  judgeAnyLine,
  judgeBoolean,
  judgeClock,
  judgeDay,
  judgeLine,
  judgeMoment,
  judgeOneOf,
  judgeSlug,
  judgeWhole,
} from "./fields.ts";
import {
  judgeLanguage,
  judgeMediaSrc,
  judgeMediaType,
  judgeOrigin,
  judgePage,
  judgePicture,
  judgeReports,
  judgeSiteUrl,
} from "./links.ts";
import { judgeZone } from "./zone.ts";

const A_HOST = "https://media.example.org";
const line = (description: string, ...examples: string[]) =>
  field(judgeLine, { type: "string", minLength: 1, description, examples });
const clock = (description: string, example: string) =>
  field(judgeClock, {
    type: "string",
    pattern: "^(\\d+:)?\\d+:[0-5]\\d(\\.\\d{1,3})?$",
    description,
    examples: [example],
  });
const moment = (description: string, example: string) =>
  field(judgeMoment, {
    type: "string",
    pattern: "^\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d(:\\d\\d(\\.\\d{1,3})?)?(Z|[+-]\\d\\d:\\d\\d)?$",
    description,
    examples: [example],
  });
const oneOf = <const W extends string>(words: readonly W[], description: string) =>
  field(judgeOneOf(words), { type: "string", enum: words, description, examples: [words[0]] });
const yesNo = (description: string) => field(judgeBoolean, { type: "boolean", description, examples: [true] });
const slug = (description: string, example: string, reserved: readonly string[] = []) =>
  field(judgeSlug(reserved), {
    type: "string",
    pattern: SLUG.source,
    ...(reserved.length > 0 ? { not: { enum: reserved } } : {}),
    description,
    examples: [example],
  });
const listOf = (each: string) => (description: string, example: string) =>
  z.array(line(each, example)).meta({ description, examples: [[example]] });
const names = listOf("A name as the register spells it.");
const misspellings = listOf("The whole name as it gets misspelt or misheard, or one word of it.");

const judgeTimeOfDay: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok || /^([01]\d|2[0-3]):[0-5]\d$/.test(judged.value)) return judged;
  return bad("time-unreadable", "is no time of day", "Write two digits, a colon, two digits: 18:30.");
};

const FRAME_RATES = [25, 29.97, 30] as const;
const judgeFrameRate: Judge<(typeof FRAME_RATES)[number]> = (written) => {
  const rate = FRAME_RATES.find((known) => known === written);
  return rate === undefined
    ? bad("value-unknown", "is no frame rate that is used here", "Write 25, 29.97 or 30.")
    : { ok: true, value: rate };
};

const SlotShape = z
  .strictObject({
    at: field(judgeTimeOfDay, {
      type: "string",
      pattern: "^([01]\\d|2[0-3]):[0-5]\\d$",
      description: "Local time of day.",
      examples: ["18:30"],
    }),
    runs: clock("How long the slot is.", "28:00"),
    days: line("The days, as people say them.", "weeknights"),
    edition: slug("The ending of the ids of its episodes: late for 2026-10-05-late.", "late").optional(),
  })
  .meta({
    description: "When the programme is broadcast: one slot, or a list of them.",
    examples: [{ at: "18:30", runs: "28:00", days: "weeknights" }],
  });
const SlotsShape = z.array(SlotShape).min(1);

export const ProgrammeShape = z
  .strictObject({
    title: line("The programme's name.", "The Evening Tide"),
    station: line("Who broadcasts it.", "Verrin Islands Broadcasting").optional(),
    language: field(judgeLanguage, {
      type: "string",
      description: "The language it is spoken in, a BCP 47 tag.",
      examples: ["en-GB"],
    }),
    timezone: field(judgeZone, {
      type: "string",
      description: "The zone that times without an offset are in, from the IANA list.",
      examples: ["Europe/London"],
    }),
    url: field(judgeSiteUrl, {
      type: "string",
      format: "uri",
      pattern: "^https?://.*/$",
      description: "Where the site will stand, with a slash at the end.",
      examples: ["https://tide.example.org/"],
    }),
    slot: SlotShape.optional(),
    framerate: field(judgeFrameRate, {
      type: "number",
      enum: FRAME_RATES,
      description: "Frames a second of the programme's timecode; wanted where a running order has frames.",
      examples: [25],
    }).optional(),
    reports: field(judgeReports, {
      type: "string",
      format: "uri",
      description: "Where errors are reported: a mailto or https address.",
      examples: ["mailto:corrections@example.org"],
    }).optional(),
    code: field(judgePage, {
      type: "string",
      format: "uri",
      description: "The station's own editorial code, on the web: the desk leads to it beside its cautions.",
      examples: ["https://example.org/code/"],
    }).optional(),
    mediahosts: z
      .array(field(judgeOrigin, { type: "string", format: "uri", description: "A host.", examples: [A_HOST] }))
      .meta({ description: "Other hosts that recordings may stand on: pages load from no others." })
      .optional(),
    captions: CaptionsShape.optional(),
    addresses: AddressesShape.optional(),
    checks: ChecksShape.optional(),
    watch: WatchShape.optional(),
    presenters: names("Who presents, as the register spells them.", "Tamsin Hathersay").min(1).optional(),
    poster: field(judgePicture, {
      type: "string",
      description: "A picture beside programme.md, for the front page, and where a film has not begun.",
      examples: ["poster.svg"],
    }).optional(),
    posteralt: line("What the picture shows, for people who can't see it.", "The harbour at dusk").optional(),
    own: line(
      "The folder of the station's own templates, from this file: programs run from it, so it can't be in the content.",
      "../templates/own",
    ).optional(),
  })
  .meta({ title: "Programme", description: "The front matter of programme.md. The body is about the programme." });

/** The same with a list of slots. */
export const SeveralSlotsShape = ProgrammeShape.extend({ slot: SlotsShape });
/** What programme.md may hold, as editors are told. */
export const WrittenProgrammeShape = ProgrammeShape.extend({
  slot: z
    .union([SlotShape, SlotsShape])
    .meta(SlotShape.meta() ?? {})
    .optional(),
}).meta(ProgrammeShape.meta() ?? {});

const RightsShape = z
  .strictObject({
    withheld: yesNo("True: the sound may not be published. Left out only beside `sound: silenced`: false.").optional(),
    until: field(judgeDay, {
      type: "string",
      format: "date",
      description: "The first day on which it may be published; left out: not foreseen.",
      examples: ["2027-01-01"],
    }).optional(),
    holder: line("Who holds the rights.", "agency pictures").optional(),
    show: oneOf(
      ["transcript", "nothing"],
      "What a withheld segment shows: its words without its sound, or neither.",
    ).optional(),
    sound: oneOf(
      SOUND_WORDS,
      "What was settled about its sound. silenced: the recording is silent there. in-file: the recording still holds it, and whoever finds the file's address can hear it.",
    ).optional(),
    because: line(
      "With `sound: in-file`: why the recording may hold it.",
      "The agency's contract allows us to stream the whole programme.",
    ).optional(),
  })
  .meta({ description: "Rights that keep a segment from being published whole." });

const SegmentShape = z.strictObject({
  slug: slug(
    "Unique in the episode; becomes the address, so it never changes.",
    "ferry-timetable",
    RESERVED_SEGMENT_SLUGS,
  ),
  kind: oneOf(SEGMENT_KINDS, "What sort of segment it is."),
  title: line("The segment's title.", "Nine sailings a week from Sollen"),
  in: clock("In point, in the episode's clock.", "0:41"),
  out: clock("Out point; left out: the next in point.", "3:20").optional(),
  by: names("Reporters and presenters.", "Ilse Marrane").optional(),
  topics: z.array(line("A topic.", "transport")).meta({ description: "What it is about." }).optional(),
  places: z.array(line("A place.", "Sollen")).meta({ description: "Where it happens." }).optional(),
  story: line("The story that it belongs to; `none`: to none.", "The winter timetable").optional(),
  summary: line("One sentence.", "The winter timetable has nine sailings a week.").optional(),
  rights: RightsShape.optional(),
  cautions: z
    .array(oneOf(CAUTIONS, "A matter that asks for care."))
    .meta({ description: "Matters that ask for care before publication." })
    .optional(),
  planned: clock("Planned duration from the running order.", "1:40").optional(),
  edges: oneOf(
    ["heard"],
    "heard: somebody has listened to its first and last words. Asked for where times are guessed and the segment may not be given.",
  ).optional(),
});

const MediaShape = z.strictObject({
  src: field(judgeMediaSrc, {
    type: "string",
    description: "An https address, or the name of a file beside episode.md.",
    examples: ["https://media.example.org/2026-10-05.mp4"],
  }),
  type: field(judgeMediaType, { type: "string", description: "The media type.", examples: ["video/mp4"] }),
  bytes: field(judgeWhole(1), {
    type: "integer",
    minimum: 1,
    description: "The file's size in bytes.",
    examples: [184000000],
  }).optional(),
});

export const EpisodeShape = z
  .strictObject({
    title: line("The episode's title.", "Fewer ferries, and the long swim"),
    summary: line("One or two sentences on the episode.", "The ferry company halves its sailings.").optional(),
    aired: moment("When it went to air, in the programme's zone unless an offset is given.", "2026-10-05T18:30:00"),
    duration: clock("How long the web media file runs; without a recording, the broadcast without its cuts.", "27:52"),
    media: z
      .array(MediaShape)
      .meta({
        description: "The recording, best first; left out: there is none on the site.",
        examples: [[{ src: "evening.mp3", type: "audio/mpeg" }]],
      })
      .optional(),
    clock: oneOf(
      ["aired", "media"],
      "What the times below and in the transcript count: the broadcast, or the media file.",
    ),
    times: oneOf(
      ["guessed"],
      "guessed: the raw transcript had one time for many words. Left out: the captions' times are known.",
    ).optional(),
    cuts: z
      .array(
        z.strictObject({
          from: clock("Where the cut begins, in aired time.", "13:20"),
          to: clock("Where it ends, in aired time.", "15:05"),
          why: line("Why it was cut.", "break"),
        }),
      )
      .meta({ description: "Aired time that the media file does not have." })
      .optional(),
    segments: z
      .array(SegmentShape)
      .meta({
        description: "The running order; left out: the whole programme is one segment.",
        examples: [[{ slug: "headlines", kind: "headlines", title: "Headlines", in: "0:00" }]],
      })
      .optional(),
    accepted: AcceptedShape.optional(),
  })
  .meta({ title: "Episode", description: "The front matter of episode.md. The body is the programme notes." });

const said = line("The exact published words concerned.", "eleven sailings");
const every = yesNo("True: every occurrence in the episode.");
const common = {
  dated: moment(
    "When the correction was made, in the programme's zone unless an offset is given.",
    "2026-10-06T09:40:00+01:00",
  ),
  segment: slug("The segment's slug; left out: the whole episode.", "ferry-timetable").optional(),
  signed: line("Who answers for it.", "Standards editor"),
  supersedes: field(judgeLine, {
    type: "string",
    pattern: "^\\d{4}-\\d\\d-\\d\\d-[1-9]\\d*$",
    description: "The correction that this one takes the place of.",
    examples: ["2026-10-06-1"],
  }).optional(),
};
const where = clock("Where, in the episode's clock.", "3:41").optional();
const kindIs = <const K extends CorrectionKind>(kind: K) =>
  z.literal(kind).meta({ description: correctionKind(kind).inSchema });

const noting = <const K extends CorrectionKind>(kind: K) =>
  z.strictObject({ ...common, kind: kindIs(kind), at: where, said: said.optional(), every: every.optional() });
const replacingWords = <const K extends CorrectionKind>(kind: K) =>
  z.strictObject({
    ...common,
    kind: kindIs(kind),
    at: where,
    field: oneOf(["speaker"], "Given: the speaker's name was wrong, not the words.").optional(),
    said: field(judgeAnyLine, {
      type: "string",
      description: 'The exact published words concerned; of a speaker "" where nobody was named.',
      examples: ["eleven sailings"],
    }),
    now: field(judgeAnyLine, {
      type: "string",
      description: 'What they become; "" where nothing was said, or the speaker is nobody.',
      examples: ["nine sailings"],
    }),
    every: every.optional(),
  });
const replacingField = <const K extends CorrectionKind>(kind: K) =>
  z.strictObject({
    ...common,
    kind: kindIs(kind),
    field: oneOf(PAGE_FIELDS, "Which part of the page was wrong."),
    said,
    now: field(judgeAnyLine, { type: "string", description: "What it becomes.", examples: ["Nine sailings a week"] }),
  });
const takingAway = <const K extends CorrectionKind>(kind: K) => z.strictObject({ ...common, kind: kindIs(kind) });

type KindShape =
  | ReturnType<typeof noting<KindThat<"adds-note">>>
  | ReturnType<typeof replacingWords<KindThat<"replaces-words">>>
  | ReturnType<typeof replacingField<KindThat<"replaces-field">>>
  | ReturnType<typeof takingAway<KindThat<"takes-away">>>;

function shapeOf(kind: CorrectionKind): KindShape {
  if (kindDoes(kind, "adds-note")) return noting(kind);
  if (kindDoes(kind, "replaces-words")) return replacingWords(kind);
  if (kindDoes(kind, "replaces-field")) return replacingField(kind);
  return kindDoes(kind, "takes-away") ? takingAway(kind) : unreachable(kind);
}

/** The fields that each kind of correction allows. */
export const CORRECTION_SHAPES = Object.fromEntries(CORRECTION_KINDS.map((kind) => [kind, shapeOf(kind)])) as Readonly<
  Record<CorrectionKind, KindShape>
>;

/** Every field a correction may have, for files whose kind can't be told. */
export const AnyCorrectionShape = z.strictObject({
  ...common,
  kind: oneOf(CORRECTION_KINDS, "What kind of correction it is."),
  at: where,
  field: oneOf([...PAGE_FIELDS, "speaker"], "Which part was wrong.").optional(),
  said: field(judgeAnyLine, { type: "string", description: "The words.", examples: ["eleven sailings"] }).optional(),
  now: field(judgeAnyLine, { type: "string", description: "What it becomes.", examples: ["nine sailings"] }).optional(),
  every: every.optional(),
});

export const CorrectionShape = z
  .discriminatedUnion("kind", Object.values(CORRECTION_SHAPES) as [KindShape, ...KindShape[]])
  .meta({
    title: "Correction",
    description: "The front matter of a correction. The body is the note that the public reads.",
  });

export const NameShape = z
  .strictObject({
    name: line("The one spelling.", "Tamsin Hathersay"),
    kind: oneOf(NAME_KINDS, "What bears the name."),
    role: line("What the person or thing is to the programme.", "Presenter").optional(),
    say: line("How to say it.", "TAM-zin HATH-er-say").optional(),
    misspelt: misspellings(
      "How it gets misspelt or misheard: searches for it find the name, `check` tells it, and `check --fix names` mends it.",
      "Tamsin Heathersay",
    ).optional(),
  })
  .meta({ title: "Name", description: "The front matter of an entry of the register. The body is about it." });

export const PageShape = z
  .strictObject({
    title: line("The page's title.", "Corrections policy"),
    summary: line("One sentence.", "How errors are corrected.").optional(),
    order: field(judgeWhole(0), {
      type: "integer",
      minimum: 0,
      description: "Its place among the pages, rising; left out: 0.",
      examples: [1],
    }).optional(),
  })
  .meta({ title: "Page", description: "The front matter of a page written by hand." });
