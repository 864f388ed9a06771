import type { WalkItem, WalkNote, WalkPage } from "../../src/pages/types.ts";
import { DraftFlag } from "../parts/episodeCard.tsx";
import { Glyph } from "../parts/glyph.tsx";
import type { Sheet } from "../parts/layout.tsx";
import { WaysOn } from "../parts/ways.tsx";

/** A month or a name: an evening to an entry, its segments, and beside each when it was corrected. */
export function walkSheet(page: WalkPage): Sheet {
  const { up, heading, dateline, items, ways } = page;
  return {
    here: null,
    sheet: "walk-page",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">
            <a href={up.href}>{up.title}</a>, {dateline}
          </p>
          <h1>
            <bdi>{heading}</bdi>
          </h1>
        </header>
      ),
      ways: <WaysOn ways={ways} />,
      items:
        items.length === 0 ? (
          <p class="none">There is nothing to show here.</p>
        ) : (
          <ol class="walk editions">
            {items.map((item) => (
              <Evening key={item.episode.href} item={item} />
            ))}
          </ol>
        ),
    },
  };
}

function Evening({ item: { day, time, episode, draft, segments, corrections } }: { readonly item: WalkItem }) {
  return (
    <li class="evening">
      <p class="ed-date">
        <time datetime={day.iso}>
          <span>{day.weekday}</span> <b>{day.day}</b>{" "}
          <span>
            {day.month} {day.year}
          </span>
          {time !== null && (
            <>
              {" "}
              <span class="ed-hour">{time}</span>
            </>
          )}
        </time>
      </p>
      <div class="evening-rows">
        <div class="walk-row">
          <h2>
            <a href={episode.href}>{episode.title}</a>
            {draft && <DraftFlag />}
          </h2>
          <Notes notes={corrections} />
        </div>
        {segments.map(({ title, href, kindName, length, as, corrections: notes }) => (
          <div class="walk-row" key={href}>
            <h3>
              <a href={href}>{title}</a>
            </h3>
            <p class="r-meta">
              {kindName !== null && `${kindName}, `}
              {length}
              {as !== null && (
                <>
                  , as <bdi>{as}</bdi>
                </>
              )}
            </p>
            <Notes notes={notes} />
          </div>
        ))}
      </div>
    </li>
  );
}

const Notes = ({ notes }: { readonly notes: readonly WalkNote[] }) =>
  notes.length === 0 ? null : (
    <ul>
      {notes.map(({ kind, kindName, href, dated, datedLong }) => (
        <li key={href}>
          <a class="flag" href={href}>
            <Glyph kind={kind} />
            <span>
              {kindName}, <time datetime={dated}>{datedLong}</time>
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
