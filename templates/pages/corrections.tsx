import type { CorrectionKind } from "../../src/model/episode.ts";
import type { CorrectionsPage } from "../../src/pages/types.ts";
import { Entry } from "../parts/entry.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Layout } from "../parts/layout.tsx";
import { figures } from "../parts/text.ts";

/** The log of corrections, newest first, by month. */
export function Corrections({ page }: { readonly page: CorrectionsPage }) {
  const { site, months, dateline } = page;
  return (
    <Layout page={page} here={site.corrections} sheet="corrections-page">
      <header class="page-head">
        <p class="dateline">{dateline}</p>
        <h1>Corrections</h1>
        <p class="standfirst">
          Everything we have corrected, newest first. Nothing on this list is ever removed, and nothing is changed
          anywhere on these pages without appearing here.
        </p>
      </header>
      <KindFilter page={page} />
      <div class="entries">
        {months.length === 0 && <p class="none">There have been no corrections yet.</p>}
        {months.map(({ id, title, entries }) => (
          <section key={id} aria-labelledby={`month.${id}`}>
            <h2 id={`month.${id}`}>{title}</h2>
            {entries.map((entry) => (
              <Entry key={entry.id} entry={entry} />
            ))}
          </section>
        ))}
      </div>
      <Key />
    </Layout>
  );
}

/** Works by the style sheet alone; where that can't look up and down a page, it is not shown. */
const KindFilter = ({ page: { site, kinds } }: { readonly page: CorrectionsPage }) => (
  <aside class="rail-note filter" aria-label="Show by kind">
    <fieldset class="kinds">
      <legend>Show</legend>
      {kinds.map(({ kind, name, count }) => (
        <label key={kind}>
          <input
            type="radio"
            name="kind"
            value={kind}
            checked={kind === "all"}
            disabled={kind !== "all" && count === 0}
          />{" "}
          {kind !== "all" && <Glyph kind={kind} />} <span class="k-name">{name}</span>{" "}
          <span class="k-count">{figures(count)}</span>
        </label>
      ))}
    </fieldset>
    <p class="rail-links">
      <a href={site.reports}>Report an error</a>
    </p>
  </aside>
);

const MEANINGS: readonly (readonly [CorrectionKind, string, string])[] = [
  ["on-air", "On-air error", "The programme said it wrong. The words stand, because a transcript says what was said."],
  ["transcript", "Transcript error", "We wrote down the wrong words. They are replaced, and what stood there is kept."],
  ["page", "Page error", "A title, summary, name or time on a page was wrong and has been replaced."],
  ["clarification", "Clarification", "The words were not wrong, but needed more beside them."],
  ["update", "Update", "Something has happened since, and is added."],
  ["withdrawal", "Withdrawal", "A segment or an episode is taken away. The note stays."],
];

const Key = () => (
  <section class="kinds-key" aria-labelledby="page.key">
    <h2 id="page.key">What the marks mean</h2>
    <dl>
      {MEANINGS.map(([kind, name, meaning]) => (
        <div key={kind}>
          <dt>
            <Glyph kind={kind} /> {name}
          </dt>
          <dd>{meaning}</dd>
        </div>
      ))}
    </dl>
  </section>
);
