import { z } from "zod";
import { CorrectionShape, EpisodeShape, NameShape, PageShape, ProgrammeShape } from "./shapes.ts";

export const SCHEMA_NAMES = ["programme", "episode", "correction", "name", "page"] as const;
export type SchemaName = (typeof SCHEMA_NAMES)[number];

/** The JSON Schemas (draft 2020-12) of what people write, from the shapes that read it, for editors to complete by. */
export function jsonSchemas(): Record<SchemaName, object> {
  const of = (shape: z.ZodType): object => z.toJSONSchema(shape, { io: "input" });
  return {
    programme: of(ProgrammeShape),
    episode: of(EpisodeShape),
    correction: of(CorrectionShape),
    name: of(NameShape),
    page: of(PageShape),
  };
}

/** A schema file's text: the same bytes for the same shapes. */
export const schemaText = (schema: object): string => `${JSON.stringify(schema, null, 2)}\n`;
