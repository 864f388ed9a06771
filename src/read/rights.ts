import type { z } from "zod";
import type { Rights, SoundDecision } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { blocking } from "./findings.ts";
import type { Front } from "./frontMatter.ts";
import { valueAt } from "./shapeFindings.ts";
import type { EpisodeShape } from "./shapes.ts";

type ShapedRights = NonNullable<z.output<typeof EpisodeShape>["segments"]>[number]["rights"];

/** What the keys of the segments' `rights` say against each other. To guess what is left out would be to publish. */
export function rightsFindings(front: Front): readonly Finding[] {
  const { segments } = front.data;
  return (Array.isArray(segments) ? segments : []).flatMap((_, i) => {
    const written = valueAt(segments, [i, "rights"]);
    if (typeof written !== "object" || written === null || Array.isArray(written)) return [];
    const key = (name: string) => valueAt(written, [name]);
    const at = (name: string) =>
      key(name) === undefined
        ? front.keyPlaceOf(["segments", i, "rights"])
        : front.keyPlaceOf(["segments", i, "rights", name]);
    return FAULTS.flatMap(({ stands, rule, on, says, mend }) =>
      stands(key) ? [blocking(rule, at(on), says, mend)] : [],
    );
  });
}

interface RightsFault {
  /** @param key what is written for a key; undefined where it is left out. */
  readonly stands: (key: (name: string) => unknown) => boolean;
  readonly rule: string;
  /** The key that is pointed at. */
  readonly on: string;
  readonly says: string;
  readonly mend: string;
}

const FAULTS: readonly RightsFault[] = [
  {
    stands: (key) => key("withheld") === true && key("show") === undefined,
    rule: "rights-show-missing",
    on: "withheld",
    says: "This segment is withheld, and `show` does not say what may be shown.",
    mend: "Add `show: transcript` (its words without its sound) or `show: nothing`.",
  },
  {
    stands: (key) =>
      key("withheld") === undefined &&
      (key("sound") !== "silenced" || key("until") !== undefined || key("show") !== undefined),
    rule: "rights-withheld-missing",
    on: "withheld",
    says: "These rights do not say whether the segment is withheld.",
    mend: "Add `withheld: true` or `withheld: false`.",
  },
  {
    stands: (key) => key("sound") === "in-file" && key("because") === undefined,
    rule: "rights-because-missing",
    on: "sound",
    says: "The recording is to hold this sound, and nothing says why it may.",
    mend: "Add `because:` with the reason, or take the sound out: see `afterair cuts`.",
  },
  {
    stands: (key) => key("because") !== undefined && key("sound") !== "in-file",
    rule: "rights-because-alone",
    on: "because",
    says: "A reason stands here, and no `sound: in-file` that it could be for.",
    mend: "Add `sound: in-file` if the recording holds this sound, or take the reason out.",
  },
  {
    stands: (key) => key("sound") === "in-file" && key("withheld") === false,
    rule: "rights-sound-idle",
    on: "sound",
    says: "The segment is not withheld: there is nothing for `sound: in-file` to accept.",
    mend: "Write `withheld: true`, or take `sound` and `because` out.",
  },
];

export function modelRights(rights: ShapedRights): Rights | null {
  if (rights === undefined) return null;
  const { withheld = false, until = null, holder = null, show = "transcript" } = rights;
  const sound = soundDecision(rights);
  return { withheld, until, holder, show, ...(sound === null ? {} : { sound }) };
}

function soundDecision({ sound, because }: NonNullable<ShapedRights>): SoundDecision | null {
  if (sound === "silenced") return { is: "silenced" };
  return sound === "in-file" && because !== undefined ? { is: "in-file", because } : null;
}
