import { withoutAccepted } from "../checks/accept.ts";
import { quoted } from "../checks/speech.ts";
import type { Surroundings } from "../checks/subject.ts";
import { withdrawalOf } from "../checks/withdrawn/command.ts";
import { nameOf, sameAs, withdrawnElsewhere } from "../checks/withdrawn/index.ts";
import { languageOf } from "../checks/withdrawn/matter.ts";
import type { WithdrawnMatters } from "../checks/withdrawn/places.ts";
import type { Finding, Level } from "../model/finding.ts";
import type { EpisodeFolder, openArchive } from "../read/index.ts";
import type { SiteDay } from "./day.ts";
import type { Outlined } from "./editorial.ts";
import { lookElsewhere, type PlaceElsewhere } from "./elsewhere.ts";
import type { Progress } from "./progress.ts";
import { concerning, mattersOf, withdrawnFrom } from "./withdrawn.ts";

/** What a check knows of an archive before it judges episodes. */
export interface CheckedArchive {
  readonly content: string;
  readonly archive: ReturnType<typeof openArchive>;
  readonly outlines: readonly Outlined[];
  /** The episodes asked for; all where none was named. */
  readonly wanted: readonly EpisodeFolder[];
  readonly day: SiteDay;
  readonly progress: Progress;
}

/** At what level the rule is told; null: not at all. */
function levelIn({ programme }: Pick<Surroundings, "programme">): Level | null {
  const level = programme.checks?.[withdrawnElsewhere.name] ?? withdrawnElsewhere.level;
  return level === "off" ? null : level;
}

/** The surroundings with what was withdrawn anywhere, as far as it may concern the episodes asked for. */
export function withWithdrawn(around: Surroundings, checked: CheckedArchive): Surroundings {
  const { content, archive, outlines, wanted, day } = checked;
  const withdrawing = outlines.filter(({ withdraws }) => withdraws);
  if (levelIn(around) === null || withdrawing.length === 0) return around;
  const texts = withdrawing.flatMap(({ folder }) => {
    const { episode } = archive.read(folder);
    return episode === null ? [] : withdrawnFrom(episode, day, around.programme.presenters);
  });
  const language = languageOf(around.known, around.lexicon);
  const isAll = wanted.length === archive.folders.length;
  const own = isAll ? texts : concerning(texts, wanted, content, language);
  const withdrawn = own.length === 0 ? null : mattersOf(own, { content, folders: archive.folders }, language);
  return { ...around, archive: { ...around.archive, withdrawn } };
}

/** So many places of one withdrawal are told; the others are counted. */
const MOST = 12;

/**
 * What was withdrawn from the episodes asked for and stands in others: told at the withdrawal, because the others are not
 * checked. What was accepted there stays accepted.
 */
export function elsewhereOf(around: Surroundings, checked: CheckedArchive): readonly Finding[] {
  const { content, archive, wanted, day, progress } = checked;
  const { withdrawn } = around.archive;
  const level = levelIn(around);
  const isWanted = (id: string) => wanted.some((folder) => folder.id === id);
  const matters = withdrawn?.index.matters.filter(({ from }) => isWanted(from.episode)) ?? [];
  const folders = archive.folders.filter(({ id }) => !isWanted(id));
  if (withdrawn === null || level === null || matters.length === 0 || folders.length === 0) return [];
  const own: WithdrawnMatters = { ...withdrawn, index: { ...withdrawn.index, matters } };
  const read = (folder: EpisodeFolder) => archive.read(folder).episode;
  const { places } = lookElsewhere(own, { content, folders, read, day, around, progress });
  const sure = places.filter(({ place }) => place.sure);
  return matters.flatMap((matter) => {
    const told = sure.filter(({ place }) => place.matter === matter).flatMap((one) => toldAt(one, level));
    const last = told[MOST];
    if (last === undefined) return told;
    const more = `${told.length - MOST} more places stand for what this withdrew, less likely.`;
    return [
      ...told.slice(0, MOST),
      { ...last, says: more, mend: "Check the whole archive to see them all: `npx afterair check`." },
    ];
  });
}

/** A place as a finding at the withdrawal; none where it was accepted. */
function toldAt({ place, at, accepted }: PlaceElsewhere, level: Level): readonly Finding[] {
  const { matter, episode, segment, words } = place;
  const [first] = words;
  const seconds = first === undefined ? null : first.seconds;
  const there: Finding = { rule: withdrawnElsewhere.name, level, at, seconds, says: "", mend: "" };
  if (withoutAccepted([{ finding: there, words: quoted(words) }], accepted).left.length === 0) return [];
  const says = `What this took away stands elsewhere too: ${nameOf({ episode, segment })}. ${sameAs(place)}.`;
  const mend = `Listen, and decide whether it must go there too: \`${withdrawalOf(episode, segment)}\`, or edit it while it is not published.`;
  return [{ ...there, at: matter.from.at, seconds: null, says, mend, see: [at] }];
}
