#!/usr/bin/env node
// Lets Node read the TypeScript sources, wherever the command is called from, and hands over to them.
import { fileURLToPath } from "node:url";
import { register } from "tsx/esm/api";

register({ tsconfig: fileURLToPath(new URL("../../tsconfig.json", import.meta.url)) });
await import("./main.ts");
