import { decode } from "./fragments.ts";

/** The moment that somebody wants to report. */
export interface Moment {
  /** Whole seconds of the media. */
  readonly seconds: number;
  /** `3:41`. */
  readonly clock: string;
  /** What is said there; "" where nothing is. */
  readonly words: string;
  /** The page with its `#t=`, absolute. */
  readonly page: string;
  readonly episode: string | null;
  readonly segment: string | null;
}

/**
 * The address to report an error at, with the moment in it: in subject and body of a `mailto:` (RFC 6068, which knows
 * no plus sign for a space), in the query `episode`, `segment`, `t`, `words` of a form. Any other address is left alone.
 */
export function reportAddress(href: string, moment: Moment): string {
  if (/^mailto:/i.test(href)) return mailAddress(href, moment);
  if (!/^https?:/i.test(href)) return href;
  const form = new URL(href);
  const fields = { episode: moment.episode, segment: moment.segment, t: String(moment.seconds), words: moment.words };
  for (const [name, value] of Object.entries(fields)) {
    if (value !== null && value !== "") form.searchParams.set(name, value);
  }
  return form.href;
}

function mailAddress(href: string, moment: Moment): string {
  const [to = "", query = ""] = href.split("?", 2);
  const fields = query.split("&").filter((field) => field !== "");
  const kept = fields.filter((field) => !/^(?:subject|body)=/i.test(field));
  const given = (name: string) => {
    const field = fields.find((text) => text.toLowerCase().startsWith(`${name}=`)) ?? "";
    return decode(field.slice(name.length + 1)) ?? "";
  };
  const subject = `${given("subject")} at ${moment.clock}`.trim();
  const quote = moment.words === "" ? [] : [`“${moment.words}”`];
  const body = [given("body"), ...quote, moment.page].filter((line) => line !== "").join("\r\n\r\n");
  const written = [`subject=${encodeURIComponent(subject)}`, `body=${encodeURIComponent(body)}`];
  return `${to}?${[...written, ...kept].join("&")}`;
}
