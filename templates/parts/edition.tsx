import type { Day, Edition as EditionData } from "../../src/pages/types.ts";
import { FlagLink } from "./flag.tsx";
import { FineStrip } from "./strips.tsx";

/** An episode in a list: its day, its strip, its title, and whether it was corrected. */
export const Edition = ({ edition }: { readonly edition: EditionData }) => (
  <li class="edition">
    <div class="ed-rail">
      <EditionDate day={edition.day} />
      <FineStrip strip={edition.strip} />
    </div>
    <div class="ed-body">
      <h3>
        <a href={edition.href}>{edition.title}</a>
        {edition.draft && <DraftFlag />}
      </h3>
    </div>
    {edition.correctionCount > 0 && (
      <p class="ed-side">
        <FlagLink count={edition.correctionCount} href={edition.href} />
      </p>
    )}
  </li>
);

const DraftFlag = () => (
  <>
    {" "}
    <span class="draft-flag">Draft</span>
  </>
);

const EditionDate = ({ day }: { readonly day: Day }) => (
  <p class="ed-date">
    <time datetime={day.iso}>
      <span>{day.weekday}</span> <b>{day.day}</b> <span>{day.month}</span>
    </time>
  </p>
);
