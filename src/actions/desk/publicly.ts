import { siteDay } from "../../build/day.ts";
import type { RecordFolder } from "../../build/recordFolder.ts";
import { feedCorrections } from "../../feeds/corrections.ts";
import { addressesOf } from "../../model/address.ts";
import { correctionKindName } from "../../model/correctionKinds.ts";
import type { DeskPublic } from "../../model/desk.ts";
import { NO_ASSETS, pageContextOf } from "../../pages/site.ts";
import { summaryOf } from "../../pages/summary.ts";
import { archived, openProgramme } from "../../read/index.ts";
import { episodeOn } from "../../record/day.ts";
import { showEpisode } from "../../record/shown.ts";

/**
 * A correction as the log and the feed will have it, made by what makes those. @param read the episode with the correction in
 * it. @returns null where either can't be made.
 */
export function shownPublicly(
  { episode, sources, zone }: RecordFolder,
  id: string,
  { content, now }: { readonly content: string; readonly now: Date },
): DeskPublic | null {
  const { programme } = openProgramme(content);
  const day = siteDay(null, now, zone);
  if (programme === null || episode === null || day === null) return null;
  const shown = showEpisode(episodeOn(archived(episode, sources, zone), day.until), day.date);
  const line = summaryOf(shown, pageContextOf(programme, NO_ASSETS)).entries.find(({ ref }) => ref === id);
  const item = feedCorrections(shown, { programme, addresses: addressesOf(programme.url) }).find(
    (own) => own.id === id,
  );
  if (line === undefined || item === undefined) return null;
  const { kindName, datedLong, about, where, words, html, signed } = line;
  return {
    log: { kindName, datedLong, about: about.title, where, words, html, signed },
    feed: { title: `${correctionKindName(item.kind)}: ${item.about}`, html: item.html, signed: item.signed },
  };
}
