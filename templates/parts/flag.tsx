import { Glyph } from "./glyph.tsx";
import { figures, plural } from "./text.ts";

interface FlagProps {
  readonly count: number;
  /** Where there's only room for the figure, the word is for those who listen. */
  readonly short?: boolean;
}

const FlagWords = ({ count, short = false }: FlagProps) => (
  <>
    <Glyph kind="clarification" />
    {figures(count)}
    {short ? <span class="vh"> {plural(count, "correction")}</span> : ` ${plural(count, "correction")}`}
  </>
);

/** A caret and how many corrections: in lists. */
export const Flag = (props: FlagProps) => (
  <span class="flag">
    <FlagWords {...props} />
  </span>
);

/** The same as a link to where they stand. */
export const FlagLink = ({ href, ...props }: FlagProps & { readonly href: string }) => (
  <a class="flag" href={href}>
    <FlagWords {...props} />
  </a>
);
