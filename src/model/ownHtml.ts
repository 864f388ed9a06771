const SIGNS: Readonly<Record<string, string>> = { "&lt;": "<", "&gt;": ">", "&quot;": '"', "&#39;": "'", "&amp;": "&" };

const TAG = /<\/?([a-z0-9]+|!)(?:"[^"]*"|[^">])*>/gi;
/** These part no words. */
const INLINE = new Set(["a", "b", "code", "del", "em", "i", "ins", "q", "s", "strong"]);

/** What HTML that the program set says: only these signs are written as references in it. */
export const textOf = (html: string): string =>
  html
    .replace(TAG, (_, name: string) => (INLINE.has(name) ? "" : " "))
    .replace(/&(?:lt|gt|quot|#39|amp);/g, (sign) => SIGNS[sign] ?? sign)
    .replace(/\s+/g, " ")
    .trim();
