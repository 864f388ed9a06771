import { createHash } from "node:crypto";
import { canonicalJson } from "./canonical.ts";

/** SHA-256 (FIPS 180-4) in 64 lower-case hexadecimal digits; what `sha256sum` prints. */
export type Digest = string;

export const ALGORITHM = "sha-256";

/** The digest of bytes; a text counts as its UTF-8 bytes. */
export const digestOf = (bytes: Uint8Array | string): Digest => createHash("sha256").update(bytes).digest("hex");

/** The digest of a value's canonical JSON. */
export const digestOfValue = (value: unknown): Digest => digestOf(canonicalJson(value));
