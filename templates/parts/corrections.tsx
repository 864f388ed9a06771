import { correctionKind } from "../../src/model/correctionKinds.ts";
import type { CorrectionLine as Line } from "../../src/pages/types.ts";
import { Glyph } from "./glyph.tsx";
import { counted } from "./text.ts";

interface SummaryProps {
  readonly lines: readonly Line[];
  readonly about: "episode" | "segment";
}

/** The box on top of a page: how many corrections, of which kind, where and when. */
export function CorrectionSummary({ lines, about }: SummaryProps) {
  if (lines.length === 0) return null;
  const each = lines.length === 1 ? "It is dated, and stays here." : "Each is dated, and stays here.";
  return (
    <section class="correction-summary" aria-labelledby="page.corrections">
      <h2 id="page.corrections">{counted(lines.length, "correction")}</h2>
      <p>
        Made since this {about} was broadcast. {each}
      </p>
      <ol>
        {lines.map((line) => (
          <li key={line.href}>
            <a href={line.href}>
              <Glyph kind={line.kind} />
              <span>
                {line.kindName}
                {line.clock !== null && <span class="s-at"> at {line.clock}</span>}
              </span>
            </a>{" "}
            <time class="s-date" datetime={line.dated}>
              {line.datedShort}
            </time>
          </li>
        ))}
      </ol>
    </section>
  );
}

/** At a segment's head: what was corrected in it, with the way to each note. */
export const CorrectionLines = ({ lines }: { readonly lines: readonly Line[] }) => (
  <>
    {lines.map(({ kind, href, clock, dated, datedLong }) => (
      <p class="correction-line" key={href}>
        <Glyph kind={kind} />
        <span>
          {correctionKind(kind).done} <time datetime={dated}>{dayOnly(datedLong)}</time>:{" "}
          <a href={href}>
            {correctionKind(kind).noteName}
            {clock !== null && ` at ${clock}`}
          </a>
        </span>
      </p>
    ))}
  </>
);

/** `6 October 2026, 9:40` without its time of day, which the note itself gives. */
const dayOnly = (datedLong: string): string => datedLong.split(",")[0] ?? datedLong;
