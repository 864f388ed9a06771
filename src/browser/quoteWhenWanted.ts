type Quoting = typeof import("./quote.ts");

/** Fetches what makes quotations once words are selected, a time has the focus, or a link to a moment is wanted. */
export function quoteWhenWanted(): { readonly copyMoment: (seconds: number) => Promise<string> } {
  const words = document.querySelector<HTMLElement>("[data-quote]");
  let loading: Promise<Quoting> | null = null;
  const load = (): Promise<Quoting> => {
    loading ??= import(words?.dataset.quote ?? "");
    return loading;
  };
  const begin = (): void => {
    if (words === null) return;
    const chosen = getSelection();
    const isChosen = chosen?.isCollapsed === false && chosen.getRangeAt(0).intersectsNode(words);
    if (!isChosen && document.activeElement?.matches(".stamp") !== true) return;
    for (const event of EVENTS) document.removeEventListener(event, begin);
    load().then(
      ({ startQuoting }) => startQuoting(words),
      () => {},
    ); // quoting is for who can fetch it; copying by hand works
  };
  const EVENTS = ["selectionchange", "focusin"];
  for (const event of EVENTS) document.addEventListener(event, begin);
  return { copyMoment: async (seconds) => (await load()).copyMoment(seconds) };
}
