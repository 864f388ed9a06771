import type { RecordPage } from "../../src/pages/types.ts";
import type { Sheet } from "../parts/layout.tsx";

/** How an outsider checks a copy of the site, with nothing but common tools. */
export const recordSheet = (page: RecordPage): Sheet => ({
  here: page.site.record,
  sheet: "leaflet-page",
  main: {
    heading: (
      <header class="page-head">
        <h1>{page.title}</h1>
        <p class="standfirst">
          Every episode has a record: one line for its publication, one for each correction, each with the digest of the
          words as they stood and of the line before. Nothing published can change without a line that says so.
        </p>
      </header>
    ),
    text: (
      <div class="prose">
        <CheckCopy page={page} />
        {page.example !== null && <CheckRecord example={page.example} />}
        <h2>What a record can’t show</h2>
        <p>
          A record that was written anew from end to end agrees with itself. So keep the checksum lists of another day,
          or a copy of the site: an earlier record must be the beginning of today’s. Times in a record are what the
          publisher says they are.
        </p>
        <p>
          What was withdrawn leaves no words behind, only the note that says so; a record holds digests, never words.
        </p>
      </div>
    ),
  },
});

const CheckCopy = ({ page: { lists } }: { readonly page: RecordPage }) => (
  <>
    <h2>Check a copy</h2>
    <p>These lists have the SHA-256 checksum of every file. In the folder of your copy, ask for what fails:</p>
    <pre>
      <code>{lists.map(({ title }) => `sha256sum --check --quiet ${title}`).join("\n")}</code>
    </pre>
    <ul>
      {lists.map(({ title, href, covers }) => (
        <li key={href}>
          <a href={href}>{title}</a>: {covers}
        </li>
      ))}
    </ul>
  </>
);

const CheckRecord = ({ example }: { readonly example: NonNullable<RecordPage["example"]> }) => (
  <>
    <h2>Check a record</h2>
    <p>
      The digest of an entry is that of its line without the line’s end, and stands as <code>prev</code> in the next
      line. For the first entry of <a href={example.href}>{example.title}</a>:
    </p>
    <pre>
      <code>{`sed -n 1p ${example.path} | tr -d '\\n' | sha256sum`}</code>
    </pre>
  </>
);
