import { stringify } from "yaml";
import { z } from "zod";
import type { Finding, Place } from "../model/finding.ts";
import type { Fault } from "./fields.ts";
import { blocking } from "./findings.ts";
import type { Front } from "./frontMatter.ts";
import { findNearest, listed } from "./nearest.ts";
import type { Path } from "./yamlTree.ts";

export { findingAt } from "./findings.ts";

export type Shaped<T> = { readonly value: T | null; readonly findings: readonly Finding[] };

/** Puts front matter into a shape. Every fault becomes a finding at its place, all of them at once. */
export function putInShape<T>(shape: z.ZodType<T>, front: Front): Shaped<T> {
  const shaped = shape.safeParse(front.data);
  if (shaped.success) return { value: shaped.data, findings: [] };
  return { value: null, findings: shaped.error.issues.flatMap((fault) => findingsOf(fault, shape, front)) };
}

type ZodFault = z.core.$ZodIssue;

function findingsOf(fault: ZodFault, shape: z.ZodType, front: Front): Finding[] {
  const path = fault.path.filter((step) => typeof step !== "symbol");
  const at = front.placeOf(path);
  const key = nameOf(path);
  const here = (rule: string, says: string, mend: string): Finding => blocking(rule, at, says, mend);
  if (fault.code === "unrecognized_keys")
    return fault.keys.map((extra) => unknownKey([...path, extra], extra, schemaAt(shape, path), front));
  if (valueAt(front.data, path) === undefined) return [missing(path, schemaAt(shape, path), at)];
  if (fault.code === "custom") {
    const judged: unknown = fault.params?.fault;
    if (isFault(judged)) return [here(judged.rule, `\`${key}\` ${judged.says}.`, judged.mend)];
  }
  if (fault.code === "too_small")
    return [
      here("list-empty", `\`${key}\` is an empty list.`, `Write at least one: ${exampleOf(schemaAt(shape, path))}.`),
    ];
  if (fault.code === "invalid_type" && fault.expected === "array") {
    const written = front.written(path).split("\n")[0] ?? "";
    const one = typeof valueAt(front.data, path) === "string" && written.length < 60;
    return [
      here(
        "list-wanted",
        `\`${key}\` is not a list.`,
        one ? `Put it in brackets: ${key}: [${written}].` : `Write a list: ${exampleOf(schemaAt(shape, path))}.`,
      ),
    ];
  }
  if (fault.code === "invalid_type" && fault.expected === "object") {
    return [
      here(
        "map-wanted",
        `\`${key}\` is not a set of keys with values.`,
        `It has ${listed(keysOf(schemaAt(shape, path)))}.`,
      ),
    ];
  }
  throw new Error(`no words for the fault ${fault.code} at ${JSON.stringify(path)}`);
}

/** A path as a person would call it: the last key, and which of a list. */
function nameOf(path: Path): string {
  return String(path.findLast((step) => typeof step === "string") ?? "the front matter");
}

function missing(path: Path, schema: z.ZodType | null, at: Place): Finding {
  const key = nameOf(path);
  const example = exampleOf(schema);
  return blocking(
    "key-missing",
    at,
    `\`${key}\` is missing.`,
    example === "" ? `Add \`${key}\`.` : `Add it, like this: ${key}: ${example}`,
  );
}

function unknownKey(path: Path, extra: string, schema: z.ZodType | null, front: Front): Finding {
  const known = keysOf(schema);
  const near = findNearest(extra, known);
  const mend = near === undefined ? `Take it out. Known here: ${listed(known)}.` : `Did you mean \`${near}\`?`;
  return blocking(
    "key-unknown",
    front.keyPlaceOf(path),
    `\`${extra.slice(0, 60)}\` is no key that is known here.`,
    mend,
  );
}

function isFault(value: unknown): value is Fault {
  return typeof value === "object" && value !== null && "rule" in value && "says" in value && "mend" in value;
}

/** The value at a path of plain data; undefined when there is none. */
export function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>((inside, step) => {
    if (typeof inside !== "object" || inside === null || !Object.hasOwn(inside, step)) return undefined;
    return Reflect.get(inside, step);
  }, value);
}

/** The shape at a path of a shape. */
function schemaAt(shape: z.ZodType, path: Path): z.ZodType | null {
  let here: unknown = shape;
  for (const step of path) {
    here = unwrapped(here);
    if (here instanceof z.ZodObject) here = here.shape[step];
    else if (here instanceof z.ZodArray) here = here.element;
    else return null;
  }
  return here instanceof z.ZodType ? here : null;
}

const unwrapped = (shape: unknown): unknown => (shape instanceof z.ZodOptional ? shape.unwrap() : shape);

function keysOf(shape: z.ZodType | null): string[] {
  const inner = unwrapped(shape);
  return inner instanceof z.ZodObject ? Object.keys(inner.shape) : [];
}

function exampleOf(shape: z.ZodType | null): string {
  const inner = unwrapped(shape);
  const told: unknown = inner instanceof z.ZodType ? inner.meta()?.examples : undefined;
  const first: unknown = Array.isArray(told) ? told[0] : undefined;
  return first === undefined ? "" : stringify(first, { collectionStyle: "flow", lineWidth: 0 }).trim();
}
