import { RESERVED_FILES } from "../model/address.ts";
import { bad, type Judge, judgeLine } from "./fields.ts";

const PLAIN_FILE = /^[A-Za-z0-9][A-Za-z0-9_-]*(\.[A-Za-z0-9_-]+)+$/;

export const PICTURES = [".avif", ".jpeg", ".jpg", ".png", ".svg", ".webp"] as const;

function parseUrl(text: string): URL | null {
  if (/[\s\\]/.test(text) || !URL.canParse(text)) return null;
  return new URL(text);
}

function isWeb(text: string, protocols: readonly string[]): boolean {
  const url = parseUrl(text);
  if (url === null || !protocols.includes(url.protocol)) return false;
  return /^https?:\/\//i.test(text) && url.hostname !== "" && url.username === "" && url.password === "";
}

/** True for an address on another host, not the name of a file beside. */
export const isRemote = (src: string): boolean => src.includes(":");

/** An `https:` address, or a plain file name beside episode.md. */
export const judgeMediaSrc: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const src = judged.value;
  if (/^[a-z][a-z0-9+.-]*:/i.test(src)) {
    return isWeb(src, ["https:"])
      ? judged
      : bad(
          "media-address",
          `is “${src.slice(0, 60)}”, not an https address`,
          "Begin it with https:// and leave out names and passwords.",
        );
  }
  if (/[/\\]|\.\./.test(src)) {
    return bad(
      "media-leaves-folder",
      "is a path, not the name of a file beside episode.md",
      "Put the file beside episode.md and write its name alone, or write an https address.",
    );
  }
  return judgeFileName(src);
};

/** The name of a file that can stand in an address as it is. */
export const judgeFileName: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const name = judged.value;
  if (/[/\\]/.test(name))
    return bad(
      "file-leaves-folder",
      "is a path, not the name of a file",
      "Put the file beside this one and write its name alone.",
    );
  if (!PLAIN_FILE.test(name)) {
    return bad(
      "file-name",
      "is no name that can stand in an address",
      "Name the file with letters a to z, digits, - and _, and an ending: evening.mp3.",
    );
  }
  const taken = RESERVED_FILES.includes(name.toLowerCase());
  return taken
    ? bad("file-name-taken", "is a file that the site writes itself", "Give the file another name.")
    : judged;
};

/** A picture beside programme.md. */
export const judgePicture: Judge<string> = (written) => {
  const judged = judgeFileName(written);
  if (!judged.ok) return judged;
  const known = PICTURES.some((ending) => judged.value.toLowerCase().endsWith(ending));
  return known
    ? judged
    : bad("picture-kind", "is no picture that browsers draw", `Use a file that ends in ${PICTURES.join(", ")}.`);
};

/** A MIME type, with parameters or none: `audio/ogg; codecs=opus`. */
export const judgeMediaType: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (
    !judged.ok ||
    /^(audio|video|application)\/[a-z0-9][a-z0-9.+-]*(; ?[a-z0-9-]+=("[^"\\]+"|[^\s";]+))*$/i.test(judged.value)
  )
    return judged;
  return bad("media-type", "is no media type", "Write it like video/mp4, audio/mpeg or audio/ogg; codecs=opus.");
};

/** Where the site will stand: http or https, a slash at the end, nothing after it. */
export const judgeSiteUrl: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const url = judged.value;
  if (!isWeb(url, ["http:", "https:"]))
    return bad("url-unreadable", "is not an http or https address", "Write it like https://tide.example.org/.");
  if (/[?#]/.test(url))
    return bad("url-unreadable", "has a ? or # in it, which a site's address can't have", "End it at the last slash.");
  return url.endsWith("/") ? judged : bad("url-without-slash", "has no slash at its end", `Write ${url}/.`);
};

/** A host that recordings stand on, as an origin: https, and nothing after the host. */
export const judgeOrigin: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const origin = judged.value;
  if (isWeb(origin, ["https:"]) && new URL(origin).origin === origin) return judged;
  return bad(
    "url-unreadable",
    "is not the address of a host",
    "Write https:// and the host alone, like https://media.example.org.",
  );
};

/** A page on the web. */
export const judgePage: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok || isWeb(judged.value, ["https:"])) return judged;
  return bad("url-unreadable", "is not an https address", "Write it like https://example.org/code/.");
};

/** Where errors are reported: `mailto:` or https. */
export const judgeReports: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  if (isWeb(judged.value, ["https:"])) return judged;
  if (
    /^mailto:[^\s@?&<>"]+@[^\s@?&<>"]+\.[^\s@?&<>".]+(\?[^\s<>"]*)?$/.test(judged.value) &&
    URL.canParse(judged.value)
  )
    return judged;
  const mend = /^[^\s@:]+@[^\s@:]+$/.test(judged.value)
    ? `Write mailto:${judged.value}.`
    : "Begin it with mailto: or https://.";
  return bad("url-unreadable", "is neither a mailto nor an https address", mend);
};

/** A BCP 47 language tag, in its canonical writing. */
export const judgeLanguage: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const tag = canonicalLanguage(judged.value);
  return tag === null
    ? bad("language-unknown", "is no language tag", "Write a BCP 47 tag, like en-GB.")
    : { ok: true, value: tag };
};

/** The canonical writing of a language tag that begins with two or three letters (`english` fits the grammar, but is none); null for others. */
export function canonicalLanguage(tag: string): string | null {
  if (!/^[a-z]{2,3}(-[a-z0-9]+)*$/i.test(tag)) return null;
  try {
    return Intl.getCanonicalLocales(tag)[0] ?? null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
