import type { ComponentChildren } from "preact";

interface FoldProps {
  /** Of the heading, which names what is folded. */
  readonly id: string;
  readonly title: string;
  readonly children: ComponentChildren;
}

/** One line that opens, without a script too. Where a page has room beside the words its style sheet shows all of it, open or not. */
export const Fold = ({ id, title, children }: FoldProps) => (
  <details class="fold">
    <summary>
      <h2 id={id}>{title}</h2>
    </summary>
    {children}
  </details>
);
