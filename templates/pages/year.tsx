import type { YearCell, YearPage } from "../../src/pages/types.ts";
import { Flag } from "../parts/flag.tsx";
import { Glyph } from "../parts/glyph.tsx";
import type { Sheet as PageSheet } from "../parts/layout.tsx";
import { FineStrip } from "../parts/strips.tsx";
import { countedInFigures, figures, names, plural } from "../parts/text.ts";

type Month = YearPage["months"][number];
type Card = YearCell["cards"][number];

/** A year of the archive: a sheet with a week to a line, and the same as lists. */
export function yearSheet(page: YearPage): PageSheet {
  const { site, year, dateline, hasStudio, months } = page;
  return {
    here: site.archive,
    sheet: "archive-page",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">{dateline}</p>
          <h1>{year}</h1>
          <p class="standfirst">
            One week to a line, newest at the top. Each strip is a whole programme:{" "}
            {hasStudio ? "the upper thread is the studio, the lower one is everybody else." : "its marks are speech."}
          </p>
        </header>
      ),
      years: <Years page={page} />,
      episodes:
        months.length === 0 ? (
          <p class="none year-sheet-wrap">There are no editions in this year.</p>
        ) : (
          <>
            <Sheet page={page} />
            <ByMonth months={months} />
          </>
        ),
    },
  };
}

const Years = ({ page: { years } }: { readonly page: YearPage }) => (
  <nav class="rail-note years-nav" aria-labelledby="page.years">
    <h2 id="page.years">Years</h2>
    <ol reversed>
      {years.map(({ year, href, count, current }) => (
        <li key={year}>
          <a href={href} aria-current={current ? "page" : undefined}>
            {year}
          </a>{" "}
          {count !== null && (
            <span>
              {figures(count)}
              <span class="vh"> {plural(count, "edition")}</span>
            </span>
          )}
        </li>
      ))}
    </ol>
  </nav>
);

function Sheet({ page: { year, years, weekdays, months } }: { readonly page: YearPage }) {
  const newest = newestDay(months);
  const goesOn = years.every((other) => other.year <= year);
  return (
    <section class="year-sheet-wrap" aria-labelledby="page.sheet">
      <h2 class="vh" id="page.sheet">
        Calendar
      </h2>
      <table class={names("year-sheet", weekdays.length > 5 && "full-week")}>
        <caption class="vh">Editions of {year} by week</caption>
        <thead>
          <tr>
            <td />
            {weekdays.map(({ short, long }) => (
              <th scope="col" key={long}>
                <abbr title={long}>{short}</abbr>
              </th>
            ))}
          </tr>
        </thead>
        {months.map((month) => (
          <MonthRows key={month.id} month={month} newest={newest} goesOn={goesOn} />
        ))}
      </table>
      <p class="key-line">
        <span>
          <Glyph kind="clarification" /> corrected since
        </span>{" "}
        <span>
          <i class="key-held" aria-hidden="true" /> part withheld
        </span>
      </p>
    </section>
  );
}

/** The last day with an episode. */
const newestDay = (months: readonly Month[]): string | undefined =>
  months
    .flatMap(({ weeks }) => weeks.flat())
    .flatMap((cell) => (cell !== null && cell.cards.length > 0 ? [cell.iso] : []))
    .reduce<string | undefined>((last, iso) => (last === undefined || iso > last ? iso : last), undefined);

interface MonthRowsProps {
  readonly month: Month;
  /** The last day with an episode. */
  readonly newest: string | undefined;
  /** Whether the year is the newest: then days after the last episode are still to come. */
  readonly goesOn: boolean;
}

const MonthRows = ({ month, newest, goesOn }: MonthRowsProps) => (
  <tbody id={`month.${month.id}`}>
    {month.weeks.map((week, row) => (
      <tr key={week.find((cell) => cell !== null)?.iso}>
        {row === 0 && (
          <th scope="rowgroup" rowspan={month.weeks.length}>
            <span class="m-long">{month.long}</span>
            <span class="m-short" aria-hidden="true">
              {month.short}
            </span>
          </th>
        )}
        {week.map((cell) => (cell === null ? <td /> : <DayCell cell={cell} newest={newest} goesOn={goesOn} />))}
      </tr>
    ))}
  </tbody>
);

interface DayCellProps extends Omit<MonthRowsProps, "month"> {
  readonly cell: YearCell;
}

function DayCell({ cell, newest, goesOn }: DayCellProps) {
  const { cards, day, iso } = cell;
  if (cards.length === 0) {
    const ahead = goesOn && (newest === undefined || iso > newest);
    return (
      <td class={ahead ? "ahead" : "off"}>
        <span class="d">{day}</span>
        <span class="vh">{ahead ? " still to come" : " no edition"}</span>
      </td>
    );
  }
  return (
    <td class={iso === newest ? "newest" : undefined}>
      {cards.map((card) => (
        <CellLink key={card.href} cell={cell} card={card} />
      ))}
    </td>
  );
}

/** Where a day has several episodes, their titles tell them apart for those who listen. */
const CellLink = ({ cell, card }: { readonly cell: YearCell; readonly card: Card }) => (
  <a href={card.href} title={card.title}>
    <span class="d">
      {cell.day}
      <span class="vh">
        {" "}
        {cell.month}
        {cell.cards.length > 1 && `: ${card.title}`}
      </span>
    </span>
    <FineStrip strip={card.strip} />
    {card.correctionCount > 0 && (
      <span class="c">
        <Glyph kind="clarification" />
        {figures(card.correctionCount)}
        <span class="vh"> {plural(card.correctionCount, "correction")}</span>
      </span>
    )}
  </a>
);

/** The last two months stand open. */
const ByMonth = ({ months }: { readonly months: readonly Month[] }) => (
  <section class="by-month" aria-labelledby="page.by-month">
    <h2 id="page.by-month">By month</h2>
    {months
      .filter(({ cards }) => cards.length > 0)
      .map(({ id, long, href: page, cards }, index) => (
        <details class="month" key={id} open={index < 2}>
          <summary>
            <h3>{long}</h3> <span>{countedInFigures(cards.length, "edition")}</span>
          </summary>
          <ol class="month-list">
            {cards.map(({ href, title, day, correctionCount }) => (
              <li key={href}>
                <time datetime={day.iso}>
                  {day.weekday} {day.day}
                </time>{" "}
                <a href={href}>{title}</a> {correctionCount > 0 && <Flag count={correctionCount} short />}
              </li>
            ))}
          </ol>
          <p class="more">
            <a href={page}>{long} with its segments</a>
          </p>
        </details>
      ))}
  </section>
);
