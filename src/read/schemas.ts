import { z } from "zod";
import { CorrectionShape, EpisodeShape, NameShape, PageShape, WrittenProgrammeShape } from "./shapes.ts";

export const SCHEMA_NAMES = ["programme", "episode", "correction", "name", "page"] as const;
export type SchemaName = (typeof SCHEMA_NAMES)[number];

/** The JSON Schemas (draft 7, which all editors know) of what people write, from the shapes that read it, for editors to complete by. */
export function jsonSchemas(): Record<SchemaName, object> {
  const of = (shape: z.ZodType): object =>
    z.toJSONSchema(shape, { io: "input", target: "draft-7", override: withExamples });
  return {
    programme: of(WrittenProgrammeShape),
    episode: of(EpisodeShape),
    correction: of(CorrectionShape),
    name: of(NameShape),
    page: of(PageShape),
  };
}

/** Examples are of what is written, so they stay, although the reader makes something else of it. */
function withExamples({
  zodSchema,
  jsonSchema,
}: {
  zodSchema: z.core.$ZodTypes;
  jsonSchema: z.core.JSONSchema.BaseSchema;
}): void {
  const examples: unknown = z.globalRegistry.get(zodSchema)?.examples;
  if (Array.isArray(examples) && examples.length > 0) jsonSchema.examples = examples;
}

/** A schema file's text: the same bytes for the same shapes. */
export const schemaText = (schema: object): string => `${JSON.stringify(schema, null, 2)}\n`;
