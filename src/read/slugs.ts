import { SLUG } from "./fields.ts";

/** The slug nearest to a text: small letters a to z, digits and single hyphens; "" where it has none of them. */
export function slugFrom(text: string): string {
  const near = text
    .normalize("NFD")
    .toLowerCase()
    .replace(/[\p{M}'’]/gu, "")
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 60)
    .replace(/^-|-$/g, "");
  return SLUG.test(near) ? near : "";
}
