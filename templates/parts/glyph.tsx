import { CORRECTION_KINDS, correctionKind } from "../../src/model/correctionKinds.ts";
import type { CorrectionKind } from "../../src/pages/types.ts";

/** The sign of a kind of correction, from the page's sprite. Words beside it always say the same. */
export const Glyph = ({ kind }: { readonly kind: CorrectionKind | "afterair" }) => (
  <svg class="glyph" aria-hidden="true" focusable="false">
    <use href={`#mark-${kind}`} />
  </svg>
);

/** Signs and the hatching of what is withheld: once a page, before everything that refers to them. */
export const Sprite = () => (
  <svg class="sprite" width="0" height="0" aria-hidden="true" focusable="false">
    <defs>
      {CORRECTION_KINDS.map((kind) => {
        const { drawn, filled } = correctionKind(kind).glyph;
        return (
          <symbol key={kind} id={`mark-${kind}`} viewBox="0 0 24 24">
            <path d={drawn} />
            {filled !== undefined && <path class="solid" d={filled} />}
          </symbol>
        );
      })}
      <symbol id="mark-afterair" viewBox="0 0 24 24">
        <path class="solid" d="M4 2h5v6H4zM4 9.5h5V16H4zM4 17.5h5V22H4z" />
        <path d="M12 15.5 16.5 7l4.5 8.5" />
      </symbol>
      <path id="caret-back" d="M5 0l8-4.5v2.6L8.4 0 13 1.9v2.6z" />
      <path id="caret-up" d="M0-2l4.5 8.5H2L0 2.7-2 6.5h-2.5z" />
      <path id="caret-up-small" d="M0-6l4 7h-8z" />
      <pattern id="hatching" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path class="hatch" d="M0 0v6" />
      </pattern>
    </defs>
  </svg>
);
