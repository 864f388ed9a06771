import type { MediaLink } from "../pages/types.ts";
import { itemsIn } from "./attributes.ts";

/** Reads `data-media`: only links that are such. */
export const parseMedia = (text: string | undefined): readonly MediaLink[] => itemsIn(text, isMediaLink);

function isMediaLink(value: unknown): value is MediaLink {
  if (typeof value !== "object" || value === null) return false;
  const { src, type } = value as Partial<Record<keyof MediaLink, unknown>>;
  return typeof src === "string" && typeof type === "string";
}

/**
 * Gives a player the recording that was kept for the script, because only a script steps over what it may not play.
 * To be called by whoever steps over it. The browser's menu is kept from offering the file.
 * @returns whether there was one.
 */
export function takeMedia(video: HTMLVideoElement): boolean {
  const media = parseMedia(video.dataset.media);
  if (media.length === 0) return false;
  const sources = media.map(({ src, type }) => {
    const source = document.createElement("source");
    source.src = src;
    source.type = type;
    return source;
  });
  video.addEventListener("contextmenu", (event) => event.preventDefault());
  video.prepend(...sources);
  video.hidden = false;
  return true;
}
