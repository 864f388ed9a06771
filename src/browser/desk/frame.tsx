import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";

interface FrameProps {
  readonly title: string;
  /** The episode that is worked on; left out: none. */
  readonly id?: string;
  /** Which of the episode's pages this is. */
  readonly here?: "words" | "order" | "look" | "publish" | "correct";
  readonly children: ComponentChildren;
}

/** What stands around every page of the desk. */
export function Frame({ title, id, here, children }: FrameProps) {
  useEffect(() => {
    document.title = `${title} · The desk`;
  }, [title]);
  return (
    <>
      <header class="desk-head">
        <nav aria-label="The desk">
          <a href="/" aria-current={id === undefined && title === "Tonight" ? "page" : undefined}>
            Tonight
          </a>
          {id !== undefined && (
            <>
              <a href={`/words/${id}`} aria-current={here === "words" ? "page" : undefined}>
                Words
              </a>
              <a href={`/order/${id}`} aria-current={here === "order" ? "page" : undefined}>
                Running order
              </a>
              <a href={`/look/${id}`} aria-current={here === "look" ? "page" : undefined}>
                Second look
              </a>
              <a href={`/publish/${id}`} aria-current={here === "publish" ? "page" : undefined}>
                Publish
              </a>
              <a href={`/correct/${id}`} aria-current={here === "correct" ? "page" : undefined}>
                Correct
              </a>
            </>
          )}
        </nav>
      </header>
      <main class="desk-main">
        <h1 class="desk-title">{title}</h1>
        {children}
      </main>
    </>
  );
}

/** Something that went wrong, read out at once. */
export const Fault = ({ says }: { readonly says: string | null }) =>
  says === null ? null : (
    <p class="desk-fault" role="alert">
      {says}
    </p>
  );
