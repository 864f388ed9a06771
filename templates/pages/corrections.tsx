import { CORRECTION_KINDS, correctionKind, correctionKindName } from "../../src/model/correctionKinds.ts";
import type { CorrectionsPage, Narrowing } from "../../src/pages/types.ts";
import { Entry } from "../parts/entry.tsx";
import { Glyph } from "../parts/glyph.tsx";
import type { Sheet } from "../parts/layout.tsx";
import { figures } from "../parts/text.ts";

/** The log of corrections, newest first, by month. */
export function correctionsSheet(page: CorrectionsPage): Sheet {
  const { site, months, dateline, heading, newest } = page;
  return {
    here: site.corrections,
    sheet: "corrections-page",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">{dateline}</p>
          <h1>{heading}</h1>
          <p class="standfirst">
            Everything we have corrected, newest first. Nothing on this list is ever removed, and nothing is changed
            anywhere on these pages without appearing here.
          </p>
        </header>
      ),
      narrowing: <Narrow page={page} />,
      corrections: (
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
      ),
      key: <Key />,
    },
  };
}

/** Fewer of them, each way on a page of its own. */
const Narrow = ({ page: { site, kinds, years, feed } }: { readonly page: CorrectionsPage }) => (
  <aside class="rail-note filter" aria-label="Fewer corrections">
    <NarrowBy name="By kind" ways={kinds} />
    {years.length > 2 && <NarrowBy name="By year" ways={years} />}
    <p class="rail-links">
      <a href={feed}>Corrections feed</a>
      {site.reports !== null && (
        <>
          <br />
          <a href={site.reports}>Report an error</a>
        </>
      )}
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

const Key = () => (
  <section class="kinds-key" aria-labelledby="page.key">
    <h2 id="page.key">What the marks mean</h2>
    <dl>
      {CORRECTION_KINDS.map((kind) => (
        <div key={kind}>
          <dt>
            <Glyph kind={kind} /> {correctionKindName(kind)}
          </dt>
          <dd>{correctionKind(kind).meaning}</dd>
        </div>
      ))}
    </dl>
  </section>
);
