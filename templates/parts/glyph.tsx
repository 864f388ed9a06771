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
      <symbol id="mark-on-air" viewBox="0 0 24 24">
        <path d="M3 8.5h18" />
        <path class="solid" d="M5 14.5h2.6v2.6H5zM10.7 14.5h2.6v2.6h-2.6zM16.4 14.5h2.6v2.6h-2.6z" />
      </symbol>
      <symbol id="mark-transcript" viewBox="0 0 24 24">
        <path d="M3 12h18M16.5 4 7.5 20" />
      </symbol>
      <symbol id="mark-page" viewBox="0 0 24 24">
        <path d="M6 3.5h12v17H6zM15.5 8l-7 8" />
      </symbol>
      <symbol id="mark-clarification" viewBox="0 0 24 24">
        <path d="M4.5 19 12 6l7.5 13" />
      </symbol>
      <symbol id="mark-update" viewBox="0 0 24 24">
        <path d="M4.5 13 12 3l7.5 10M4.5 21.5 12 11.5l7.5 10" />
      </symbol>
      <symbol id="mark-withdrawal" viewBox="0 0 24 24">
        <path d="M2.5 11.5H14c4.8 0 6.6-6.5 2.7-6.5-4.4 0-4.9 8.5-2 15" />
      </symbol>
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
