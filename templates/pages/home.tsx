import type { HomePage } from "../../src/pages/types.ts";
import { ShortEntry } from "../parts/entry.tsx";
import { EpisodeCard } from "../parts/episodeCard.tsx";
import { Finder } from "../parts/finder.tsx";
import type { Sheet } from "../parts/layout.tsx";
import { RunningOrder } from "../parts/order.tsx";
import { LogStrip } from "../parts/strips.tsx";
import { countedInFigures } from "../parts/text.ts";

/** The front page: the latest episode, what was corrected, and the way to everything earlier. */
export function homeSheet(page: HomePage): Sheet {
  const { site, latest, earlier } = page;
  return {
    here: site.home,
    sheet: "home",
    sheets: latest === null ? [] : [latest.order.sheet],
    main: {
      latest: latest === null ? <Nothing page={page} /> : <Latest page={page} latest={latest} />,
      "running-order": latest !== null && latest.order.items.length > 0 && (
        <RunningOrder order={latest.order} lamp={false} />
      ),
      finder: <Finder action={site.search} hint={page.hint} />,
      corrections: <LatestCorrections page={page} />,
      earlier: earlier.length > 0 && (
        <section class="editions" aria-labelledby="page.earlier">
          <h2 id="page.earlier">Earlier</h2>
          <ol>
            {earlier.map((card) => (
              <EpisodeCard key={card.href} card={card} />
            ))}
          </ol>
          <p class="more">
            <a href={site.archive}>The whole archive</a>, or by <a href={site.speakers}>speaker</a>,{" "}
            <a href={site.topics}>topic</a>, <a href={site.places}>place</a> and <a href={site.stories}>story</a>
          </p>
        </section>
      ),
    },
  };
}

const Poster = ({ site: { poster } }: Pick<HomePage, "site">) =>
  poster === null ? null : <img class="poster" src={poster.src} width="1280" height="720" alt={poster.alt} />;

interface LatestProps {
  readonly page: HomePage;
  readonly latest: NonNullable<HomePage["latest"]>;
}

function Latest({ page: { site }, latest }: LatestProps) {
  const { href, day, title, summary, runs, plays, order } = latest;
  return (
    <section class="latest" aria-labelledby="page.latest">
      <Poster site={site} />
      <p class="dateline">
        <time datetime={day.iso}>{day.long}</time>
      </p>
      <h1 id="page.latest">
        <a href={href}>{title}</a>
      </h1>
      {summary !== null && <p class="standfirst">{summary}</p>}
      <p class="latest-go">
        <a class="key" href={href}>
          {plays ? "Play and read" : "Read"}
        </a>{" "}
        <span class="quiet">
          {runs}, with {plays ? "captions and a full transcript" : "a full transcript and no recording"}
        </span>
      </p>
      <LogStrip order={order} lamp={false} />
    </section>
  );
}

const Nothing = ({ page: { site } }: { readonly page: HomePage }) => (
  <section class="latest" aria-labelledby="page.latest">
    <Poster site={site} />
    <h1 id="page.latest">{site.programme}</h1>
    <p class="standfirst">Nothing has been published yet.</p>
  </section>
);

function LatestCorrections({ page: { site, latestCorrections, correctionCount } }: { readonly page: HomePage }) {
  if (latestCorrections.length === 0) return null;
  return (
    <aside class="latest-corrections" aria-labelledby="page.corrections">
      <h2 id="page.corrections">Latest corrections</h2>
      <ol>
        {latestCorrections.map((entry) => (
          <ShortEntry key={entry.id} entry={entry} />
        ))}
      </ol>
      <p class="more">
        <a href={site.corrections}>
          {correctionCount === 1 ? "The log of corrections" : `All ${countedInFigures(correctionCount, "correction")}`}
        </a>
      </p>
    </aside>
  );
}
