interface FinderProps {
  readonly action: string;
  readonly hint: string | null;
  /** On the search page itself: the form that the filters and the script belong to. */
  readonly id?: string;
}

/** The search field. Elsewhere than on the search page it leads there. */
export const Finder = ({ action, hint, id }: FinderProps) => (
  <search class="finder">
    <form action={action} method="get" id={id}>
      <label for="page.q">Find the words</label>
      <div class="finder-row">
        <input
          id="page.q"
          name="q"
          type="search"
          autocomplete="off"
          spellcheck={false}
          aria-describedby={hint === null ? undefined : "page.hint"}
        />
        <button type="submit">Search</button>
      </div>
      {hint !== null && (
        <p class="hint" id="page.hint">
          {hint}
        </p>
      )}
    </form>
  </search>
);
