import { isPlaceZone } from "./dates.ts";
import { bad, type Judge, judgeLine } from "./fields.ts";
import { findNearest } from "./nearest.ts";

/** A zone of the IANA list. */
export const judgeZone: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok || isPlaceZone(judged.value)) return judged;
  const near = nearestZone(judged.value);
  const mend = near === undefined ? "Write a zone of the IANA list, like Europe/London." : `Did you mean ${near}?`;
  return bad("zone-unknown", `is “${judged.value.slice(0, 40)}”, which is no time zone`, mend);
};

/** The zone that was most likely meant; of a city alone, the zone that is named after it. */
function nearestZone(written: string): string | undefined {
  const zones = Intl.supportedValuesOf("timeZone");
  const byCity = new Map(zones.map((zone) => [zone.slice(zone.lastIndexOf("/") + 1), zone]));
  const city = written.includes("/") ? undefined : findNearest(written, [...byCity.keys()]);
  return city === undefined ? findNearest(written, zones) : byCity.get(city);
}
