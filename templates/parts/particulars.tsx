import type { ComponentChildren } from "preact";
import { percent } from "../../src/model/strip.ts";
import type { EpisodePage, Link, LogBox, Share } from "../../src/pages/types.ts";
import { Proposed } from "./draft.tsx";

type Files = EpisodePage["files"];
type Citation = EpisodePage["citation"];

/** The ruled boxes under a title. */
export const LogHead = ({ boxes }: { readonly boxes: readonly LogBox[] }) =>
  boxes.length === 0 ? null : (
    <dl class="log-head">
      {boxes.map(({ label, entries }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>
            {entries.map(({ text, href }, index) => (
              <>
                {index > 0 && ", "}
                {href === null ? text : <a href={href}>{text}</a>}
              </>
            ))}
          </dd>
        </div>
      ))}
    </dl>
  );

/** What most people come for, near the title; the whole list is among the particulars. */
export const Actions = ({ files }: { readonly files: Files }) => (
  <ul class="actions">
    {files.slice(0, 2).map(({ title, ending, href }) => (
      <li key={href}>
        <a href={href} download>
          {title} <span class="ext">{ending}</span>
        </a>
      </li>
    ))}
    <li>
      <a href="#page.cite">Cite this</a>
    </li>
  </ul>
);

interface ParticularsProps {
  /** Before the list of files: what is told of episodes alone. */
  readonly children?: ComponentChildren;
  readonly shares: readonly Share[];
  readonly citation: Citation;
  readonly files: Files;
}

/** After the words: who spoke for how long, how to cite, what to take along. */
export const Particulars = ({ shares, citation, files, children }: ParticularsProps) => (
  <section class="particulars" aria-labelledby="page.particulars">
    <h2 id="page.particulars">Particulars</h2>
    {shares.length > 0 && <Shares shares={shares} />}
    <div class="part" id="page.cite">
      <h3>Cite this</h3>
      <p class="citation">
        {citation.text} <span class="addr">{citation.url}</span>
      </p>
    </div>
    {children}
    {files.length > 0 && (
      <div class="part part-files">
        <h3>Take it with you</h3>
        <ul class="files">
          {files.map(({ title, ending, href }) => (
            <li key={href}>
              <a href={href} download>
                {title}
              </a>{" "}
              <span class="ext">{ending}</span>
            </li>
          ))}
        </ul>
      </div>
    )}
  </section>
);

/** Speaking time: the longest bar is the one who spoke longest. */
function Shares({ shares }: { readonly shares: readonly Share[] }) {
  const most = Math.max(...shares.map(({ fraction }) => fraction), Number.MIN_VALUE);
  return (
    <div class="part part-share">
      <h3>Speaking time</h3>
      <ul class="share">
        {shares.map(({ who, href, proposed, length, fraction, percent: figure }) => (
          <li key={who}>
            <span class="share-who">
              {href === null ? who : <a href={href}>{who}</a>}
              {proposed && <Proposed />}
            </span>{" "}
            <svg class="share-bar" aria-hidden="true" focusable="false">
              <rect width={percent(fraction / most)} height="100%" />
            </svg>{" "}
            <span class="share-time">{length}</span> <span class="share-part">{figure}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

interface Beside {
  readonly earlier: Link | null;
  readonly later: Link | null;
}
interface NeighboursProps extends Beside {
  readonly of: "episodes" | "segments";
  readonly words: readonly [earlier: string, later: string];
  /** The same part of the programme in the editions before and after. */
  readonly sameKind?: Beside | null;
  /** The segments before and after it in its story. */
  readonly story?: Beside | null;
}

/** The way to what was broadcast before and after. */
export const Neighbours = ({ of, words: [before, after], earlier, later, sameKind, story }: NeighboursProps) =>
  [earlier, later, sameKind?.earlier, sameKind?.later, story?.earlier, story?.later].every(
    (link) => (link ?? null) === null,
  ) ? null : (
    <nav class="leaf-turn" aria-label={`Neighbouring ${of}`}>
      {earlier !== null && <Neighbour link={earlier} way={before} rel="prev" />}
      {later !== null && <Neighbour link={later} way={after} rel="next" />}
      {sameKind?.earlier && sameKind.earlier.href !== story?.earlier?.href && (
        <Neighbour link={sameKind.earlier} way="Earlier" />
      )}
      {sameKind?.later && sameKind.later.href !== story?.later?.href && <Neighbour link={sameKind.later} way="Later" />}
      {story?.earlier && <Neighbour link={story.earlier} way="Earlier" />}
      {story?.later && <Neighbour link={story.later} way="Later" />}
    </nav>
  );

const Neighbour = ({ link, way, rel }: { readonly link: Link; readonly way: string; readonly rel?: string }) => (
  <a rel={rel} href={link.href}>
    <span class="turn-way">{way}</span> <span class="turn-what">{link.title}</span>
  </a>
);
