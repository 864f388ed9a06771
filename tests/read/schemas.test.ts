import { existsSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { jsonSchemas, SCHEMA_NAMES, schemaText } from "../../src/read/index.ts";

const FOLDER = "content/.schemas";

/** Every description that is missing, as the path of its key. */
function undescribed(schema: unknown, path = ""): string[] {
  if (typeof schema !== "object" || schema === null) return [];
  const properties: unknown = "properties" in schema ? schema.properties : {};
  const own = Object.entries(properties ?? {}).flatMap(([key, value]: [string, unknown]) => {
    const told = typeof value === "object" && value !== null && "description" in value;
    return [...(told ? [] : [`${path}.${key}`]), ...undescribed(value, `${path}.${key}`)];
  });
  const items = "items" in schema ? undescribed(schema.items, `${path}[]`) : [];
  const kinds: unknown = "oneOf" in schema ? schema.oneOf : [];
  return [...own, ...items, ...(Array.isArray(kinds) ? kinds.flatMap((kind) => undescribed(kind, path)) : [])];
}

describe.each(SCHEMA_NAMES)("the schema of %s", (name) => {
  const schema = jsonSchemas()[name];

  test("explains every key", () => {
    expect(schema).toHaveProperty("description");
    expect(undescribed(schema)).toEqual([]);
  });

  test("is the one that editors find; if not, run: npm run schemas", () => {
    const file = `${FOLDER}/${name}.schema.json`;
    expect(existsSync(file) ? readFileSync(file, "utf8") : `no file ${file}`).toBe(schemaText(schema));
  });
});

test("programme.md must have four keys", () => {
  expect(jsonSchemas().programme).toMatchObject({ required: ["title", "language", "timezone", "url"] });
});

test("an episode's schema asks for what the reader asks for", () => {
  expect(jsonSchemas().episode).toMatchObject({
    required: ["title", "aired", "duration", "clock"],
    additionalProperties: false,
    properties: {
      duration: { type: "string", pattern: expect.any(String) },
      clock: { enum: ["aired", "media"] },
      segments: {
        type: "array",
        items: { required: ["slug", "kind", "title", "in"], additionalProperties: false },
      },
    },
  });
});
