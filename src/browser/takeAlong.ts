/** A text to take along: plain, and as HTML where it has a form. */
export interface Along {
  readonly text: string;
  readonly html?: string;
}

/** Puts a text on the clipboard. @returns whether the browser let it. */
export async function takeAlong({ text, html }: Along): Promise<boolean> {
  try {
    if (html === undefined) await navigator.clipboard.writeText(text);
    else {
      const form = (type: string, what: string): Record<string, Blob> => ({ [type]: new Blob([what], { type }) });
      await navigator.clipboard.write([new ClipboardItem({ ...form("text/plain", text), ...form("text/html", html) })]);
    }
    return true;
  } catch {
    return false; // not a safe address, or the reader said no: the text is shown to be copied by hand
  }
}
