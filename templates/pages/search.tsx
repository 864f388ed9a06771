import type { SearchPage } from "../../src/pages/types.ts";
import { Finder } from "../parts/finder.tsx";
import { Glyph } from "../parts/glyph.tsx";
import type { Sheet } from "../parts/layout.tsx";

/** The search page as it is before anything is asked: the script fills the results and the counts. */
export function searchSheet(page: SearchPage): Sheet {
  const { site, index } = page;
  return {
    here: site.search,
    sheet: "search-page",
    script: site.assets.search,
    sheets: [site.assets.searchStyle],
    main: {
      heading: (
        <header class="page-head">
          <h1 class="vh">Search</h1>
          <Finder action={site.search} hint={page.hint} id="finder" />
          <p class="found-ways">
            Or look by <a href={site.speakers}>speaker</a>, <a href={site.topics}>topic</a>,{" "}
            <a href={site.places}>place</a> or <a href={site.stories}>story</a>.
          </p>
          <p class="found" role="status" />
          <noscript>
            <p class="no-script">
              Search needs a script, which is switched off here. Every edition is also{" "}
              <a href={site.archive}>in the archive, by year</a>.
            </p>
          </noscript>
        </header>
      ),
      filters: <Filters page={page} />,
      results: (
        <section
          class="results"
          aria-labelledby="page.results"
          data-index={index.folder}
          data-tiers={index.tiers.join(" ")}
          data-suggest={site.assets.suggest}
        >
          <div class="results-head" hidden>
            <h2 id="page.results">Results</h2>
          </div>
          <ol />
          <p class="more">
            <button type="button" data-more="" hidden>
              Show more
            </button>
          </p>
        </section>
      ),
    },
  };
}

function Filters({ page: { site, years, speakers, topics, places, kinds } }: { readonly page: SearchPage }) {
  return (
    <aside class="rail-note" aria-label="Narrow the results">
      <details class="fold narrow-by">
        <summary>Narrow by year, speaker, topic, place, kind</summary>
        <div class="filters" data-counts={site.assets.counts}>
          <Boxes legend="Year" name="year" list="years" choices={years.map((year) => ({ value: year, name: year }))} />
          <Choice label="Speaker" name="speaker" any="Anyone" choices={speakers} />
          <Choice label="Topic" name="topic" any="Anything" choices={topics} />
          <Choice label="Place" name="place" any="Anywhere" choices={places} />
          <Boxes
            legend="Kind"
            name="kind"
            list="kinds-2"
            choices={kinds.map(({ kind, name }) => ({ value: kind, name }))}
          />
          <fieldset>
            <legend>Corrections</legend>
            <label>
              <input type="checkbox" name="corrected" value="1" form="finder" /> <Glyph kind="clarification" />{" "}
              <span class="k-name">Corrected segments only</span> <span class="k-count" />
            </label>
          </fieldset>
          <button type="submit" form="finder">
            Narrow
          </button>
        </div>
      </details>
    </aside>
  );
}

interface BoxesProps {
  readonly legend: string;
  readonly name: string;
  readonly list: "years" | "kinds-2";
  readonly choices: readonly { readonly value: string; readonly name: string }[];
}

const Boxes = ({ legend, name, list, choices }: BoxesProps) =>
  choices.length === 0 ? null : (
    <fieldset>
      <legend>{legend}</legend>
      <div class={list}>
        {choices.map((choice) => (
          <label key={choice.value}>
            <input type="checkbox" name={name} value={choice.value} form="finder" />{" "}
            <span class="k-name">{choice.name}</span> <span class="k-count" />
          </label>
        ))}
      </div>
    </fieldset>
  );

interface ChoiceProps {
  readonly label: string;
  readonly name: string;
  readonly any: string;
  readonly choices: readonly string[];
}

const Choice = ({ label, name, any, choices }: ChoiceProps) =>
  choices.length === 0 ? null : (
    <p class="field">
      <label for={`page.${name}`}>{label}</label>
      <select id={`page.${name}`} name={name} form="finder">
        <option value="">{any}</option>
        {choices.map((choice) => (
          <option key={choice} value={choice}>
            {choice}
          </option>
        ))}
      </select>
    </p>
  );
