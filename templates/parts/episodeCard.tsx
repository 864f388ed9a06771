import type { Day, EpisodeCard as EditionData } from "../../src/pages/types.ts";
import { FlagLink } from "./flag.tsx";
import { FineStrip } from "./strips.tsx";

/** An episode in a list: its day, its strip, its title, and whether it was corrected. */
export const EpisodeCard = ({ card }: { readonly card: EditionData }) => (
  <li class="edition">
    <div class="ed-rail">
      <CardDate day={card.day} />
      <FineStrip strip={card.strip} />
    </div>
    <div class="ed-body">
      <h3>
        <a href={card.href}>{card.title}</a>
        {card.draft && <DraftFlag />}
      </h3>
    </div>
    {card.correctionCount > 0 && (
      <p class="ed-side">
        <FlagLink count={card.correctionCount} href={card.href} />
      </p>
    )}
  </li>
);

export const DraftFlag = () => (
  <>
    {" "}
    <span class="draft-flag">Draft</span>
  </>
);

const CardDate = ({ day }: { readonly day: Day }) => (
  <p class="ed-date">
    <time datetime={day.iso}>
      <span>{day.weekday}</span> <b>{day.day}</b> <span>{day.month}</span>
    </time>
  </p>
);
