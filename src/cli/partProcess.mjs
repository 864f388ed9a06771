// A process of its own for parts of a build: lets Node read the TypeScript sources, and hands over to them.
import { fileURLToPath } from "node:url";
import { register } from "tsx/esm/api";

register({ tsconfig: fileURLToPath(new URL("../../tsconfig.json", import.meta.url)) });
await import("./partProcess.ts");
