import type { NamesPage } from "../../src/pages/types.ts";
import type { Sheet } from "../parts/layout.tsx";
import { figures, plural } from "../parts/text.ts";
import { WaysOn } from "../parts/ways.tsx";

/** All names of a kind, by letter where they are many. */
export function namesSheet(page: NamesPage): Sheet {
  const { heading, dateline, note, groups, ways } = page;
  return {
    here: null,
    sheet: "names-page",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">{dateline}</p>
          <h1>{heading}</h1>
          <p class="standfirst">{note}</p>
        </header>
      ),
      ways: <WaysOn ways={ways} />,
      names: (
        <div class="names">
          {groups.length === 0 && <p class="none">There is nothing in this list yet.</p>}
          {groups.map(({ letter, names }) => (
            <section key={letter}>
              {letter !== null && <h2>{letter}</h2>}
              <ul>
                {names.map(({ title, href, count }) => (
                  <li key={href}>
                    <a class="way" href={href}>
                      <bdi class="k-name">{title}</bdi>{" "}
                      <span class="k-count">
                        {figures(count)}
                        <span class="vh"> {plural(count, "segment")}</span>
                      </span>
                    </a>
                  </li>
                ))}
              </ul>
            </section>
          ))}
        </div>
      ),
    },
  };
}
