import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { jsonSchemas, schemaText } from "../read/schemas.ts";

/** Writes the JSON Schemas of the content where editors look for them. */
const folder = join(process.argv[2] ?? "content", ".schemas");
await mkdir(folder, { recursive: true });
for (const [name, schema] of Object.entries(jsonSchemas())) {
  await writeFile(join(folder, `${name}.schema.json`), schemaText(schema));
}
