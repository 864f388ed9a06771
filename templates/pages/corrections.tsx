import type { CorrectionKind, CorrectionsPage, Narrowing } from "../../src/pages/types.ts";
import { Entry } from "../parts/entry.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Layout } from "../parts/layout.tsx";
import { figures } from "../parts/text.ts";

/** The log of corrections, newest first, by month. */
export function Corrections({ page }: { readonly page: CorrectionsPage }) {
  const { site, months, dateline, heading, newest } = page;
  return (
    <Layout page={page} here={site.corrections} sheet="corrections-page">
      <header class="page-head">
        <p class="dateline">{dateline}</p>
        <h1>{heading}</h1>
        <p class="standfirst">
          Everything we have corrected, newest first. Nothing on this list is ever removed, and nothing is changed
          anywhere on these pages without appearing here.
        </p>
      </header>
      <Narrow page={page} />
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
        {newest !== null && <p class="more">These are the newest {figures(newest)}; the years have all of them.</p>}
      </div>
      <Key />
    </Layout>
  );
}

/** Fewer of them, each way on a page of its own. */
const Narrow = ({ page: { site, kinds, years, feed } }: { readonly page: CorrectionsPage }) => (
  <aside class="rail-note filter" aria-label="Fewer corrections">
    <NarrowBy name="By kind" ways={kinds} />
    {years.length > 2 && <NarrowBy name="By year" ways={years} />}
    <p class="rail-links">
      <a href={feed}>Corrections feed</a>
      <br />
      <a href={site.reports}>Report an error</a>
    </p>
  </aside>
);

const NarrowBy = ({ name, ways }: { readonly name: string; readonly ways: readonly Narrowing[] }) => (
  <nav class="narrow" aria-label={name}>
    <ul>
      {ways.map((way) => (
        <li key={way.href}>
          <Way way={way} />
        </li>
      ))}
    </ul>
  </nav>
);

function Way({ way: { name, kind, count, href, current } }: { readonly way: Narrowing }) {
  const inside = (
    <>
      {kind !== null && <Glyph kind={kind} />} <span class="k-name">{name}</span>{" "}
      {count !== null && (
        <span class="k-count">
          {figures(count)}
          <span class="vh"> {count === 1 ? "correction" : "corrections"}</span>
        </span>
      )}
    </>
  );
  if (count === 0) return <span class="way">{inside}</span>;
  return (
    <a class="way" href={href} aria-current={current ? "page" : undefined}>
      {inside}
    </a>
  );
}

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
