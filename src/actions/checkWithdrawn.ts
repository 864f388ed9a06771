import type { SiteDay } from "../build/day.ts";
import type { Progress } from "../build/progress.ts";
import { withoutAccepted } from "../checks/accept.ts";
import { quoted } from "../checks/speech.ts";
import type { Surroundings } from "../checks/subject.ts";
import { withdrawalOf } from "../checks/withdrawn/command.ts";
import { nameOf, sameAs, withdrawnElsewhere } from "../checks/withdrawn/index.ts";
import { languageOf } from "../checks/withdrawn/matter.ts";
import type { WithdrawnMatters } from "../checks/withdrawn/places.ts";
import type { Finding, Level } from "../model/finding.ts";
import type { EpisodeFolder, openArchive } from "../read/index.ts";
import type { Outlined } from "./editorial.ts";
import { findElsewhere, type PlaceElsewhere } from "./elsewhere.ts";
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
  const { places } = findElsewhere(own, { content, folders, read, day, around, progress });
  const open = places.filter((one) => one.place.sure && !isAccepted(one));
  return matters.flatMap((matter) => {
    const all = open.filter(({ place }) => place.matter === matter);
    const told = all.slice(0, MOST).map((one) => findingAt(one, level));
    const [first] = told;
    if (first === undefined || all.length <= MOST) return told;
    const { see: _, ...rest } = first;
    const says = `What this took away stands in ${all.length - MOST} more places, less likely.`;
    return [...told, { ...rest, says, mend: "Check the whole archive to see them all: `npx afterair check`." }];
  });
}

/** Whether somebody looked at a place and let it stand, in the episode that it is in. */
function isAccepted({ place, accepted }: PlaceElsewhere): boolean {
  const { matter, words } = place;
  const seconds = words[0]?.seconds ?? null;
  const finding = {
    rule: withdrawnElsewhere.name,
    level: "warns",
    at: matter.from.at,
    seconds,
    says: "",
    mend: "",
  } as const;
  return withoutAccepted([{ finding, words: quoted(words) }], accepted).left.length === 0;
}

/** A place as a finding at the withdrawal. */
function findingAt({ place, at, published }: PlaceElsewhere, level: Level): Finding {
  const { matter, episode, segment } = place;
  const how = published ? `\`${withdrawalOf(episode, segment)}\`` : "edit it before it is published";
  return {
    rule: withdrawnElsewhere.name,
    level,
    at: matter.from.at,
    seconds: null,
    says: `What this took away stands elsewhere too: ${nameOf({ episode, segment })}. ${sameAs(place)}.`,
    mend: `Listen, and decide whether it must go there too: ${how}. To let it stand, accept it in ${episode}.`,
    see: [at()],
  };
}
