import type { CorrectionLine as Line } from "../../src/pages/types.ts";
import { Fold } from "./fold.tsx";
import { Glyph } from "./glyph.tsx";
import { counted } from "./text.ts";

interface SummaryProps {
  readonly lines: readonly Line[];
  readonly about: "episode" | "segment";
}

/**
 * On top of a page: how many corrections, which opens to each of them; and below it, always in sight, those that change
 * whether one reads on.
 */
export function CorrectionSummary({ lines, about }: SummaryProps) {
  if (lines.length === 0) return null;
  const inSight = lines.filter(({ says }) => says !== null);
  const others = lines.filter(({ says }) => says === null);
  const [id, title] = ["page.corrections", counted(lines.length, "correction")];
  const each = lines.length === 1 ? "It is dated, and stays here." : "Each is dated, and stays here.";
  const kept = (
    <p>
      Made since this {about} was broadcast. {each}
    </p>
  );
  return (
    <section class="correction-summary" aria-labelledby={id}>
      {others.length > 0 ? (
        <Fold id={id} title={title}>
          {kept}
          <Lines lines={others} />
        </Fold>
      ) : (
        <>
          <h2 id={id}>{title}</h2>
          {kept}
        </>
      )}
      {inSight.length > 0 && <Lines lines={inSight} />}
    </section>
  );
}

const Lines = ({ lines }: Pick<SummaryProps, "lines">) => (
  <ol>
    {lines.map(({ kind, kindName, href, clock, says, dated, datedShort }) => (
      <li key={href}>
        <a href={href}>
          <Glyph kind={kind} />
          <span>
            {says ?? kindName}
            {says === null && clock !== null && <span class="s-at"> at {clock}</span>}
          </span>
        </a>{" "}
        <time class="s-date" datetime={dated}>
          {datedShort}
        </time>
      </li>
    ))}
  </ol>
);
