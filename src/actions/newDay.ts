import { DateTime } from "luxon";
import { weekdaysOf } from "../derive/slotDays.ts";
import { editionOf } from "../derive/slots.ts";
import type { Finding, Place } from "../model/finding.ts";
import type { Programme, Slot } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { findingAt } from "../read/findings.ts";
import { isRemote, judgeMediaSrc } from "../read/links.ts";

/** Of what `afterair new` was told: the day, and when on it. */
interface Told {
  readonly id: string;
  /** Local time of day; left out: as the slots say. */
  readonly at?: string;
}

/** When a new episode went to air. */
export interface Begins {
  /** Local time of day. */
  readonly at: string;
  readonly slot: Slot | null;
  /** It is of an edition that no slot names, and the time is that of another one. */
  readonly isOfAnother: boolean;
}

/** Where findings on a new episode's day stand. */
export const placeOfNew = (id: string): Place => ({
  file: `episodes/${id.slice(0, 4)}/${id}/episode.md`,
  line: 1,
  column: 1,
});

/** When an episode went to air, by what was said or by the slots. @throws UsageError where neither says it. */
export function beginsAt({ id, at }: Told, { slots }: Programme): Begins {
  if (at !== undefined && !/^([01]\d|2[0-3]):[0-5]\d$/.test(at))
    throw new UsageError(`--at ${at} is no time of day: write two digits, a colon, two digits, such as 18:30.`);
  const edition = editionOf(id);
  const own = slots.find((slot) => slot.edition === edition);
  const slot = own ?? slots.find((one) => one.edition === null) ?? null;
  const known = at ?? slot?.at;
  if (known === undefined)
    throw new UsageError(
      "When it went to air is not known: give --at, such as --at 18:30, or write `slot` into programme.md.",
    );
  return { at: known, slot, isOfAnother: at === undefined && own === undefined };
}

/** A day that has not come yet, or on which the programme is not broadcast. */
export function dayFindings(
  { id, now }: Told & { readonly now: Date },
  { timezone }: Programme,
  { at, slot }: Begins,
): readonly Finding[] {
  const aired = DateTime.fromISO(`${id.slice(0, 10)}T${at}`, { zone: timezone });
  const told = (rule: string, says: string, mend: string) => findingAt(placeOfNew(id), "warns", rule, says, mend);
  const mend = "Check the day; the folder's name is the day of the broadcast.";
  const future =
    aired.toMillis() > now.getTime()
      ? [told("day-in-future", `${id.slice(0, 10)}, ${at} is still to come.`, mend)]
      : [];
  const days = slot === null ? null : weekdaysOf(slot.days);
  if (slot === null || days === null || days.includes(aired.weekday)) return future;
  const says = `${id.slice(0, 10)} is a ${aired.setLocale("en").toFormat("cccc")}, and the programme is broadcast on ${slot.days}.`;
  return [...future, told("day-outside-slot", says, mend)];
}

/** Addresses on hosts that programme.md does not name: the pages may not play from them, and no site could be built. */
export function strangeHosts(media: readonly string[], { mediaHosts }: Programme): readonly Finding[] {
  return media.filter(isRemote).flatMap((src) => {
    const judged = judgeMediaSrc(src);
    if (!judged.ok) return [];
    const { origin } = new URL(judged.value);
    if (mediaHosts.includes(origin)) return [];
    const says = `The pages may not play recordings from ${origin}, which programme.md does not name.`;
    const mend = `Add ${origin} to \`mediahosts\` in programme.md, or put the recording on a host that stands there.`;
    return [findingAt({ file: "programme.md", line: 1, column: 1 }, "blocks", "media-host-unknown", says, mend)];
  });
}
