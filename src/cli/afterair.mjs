#!/usr/bin/env node
// Makes the TypeScript sources ready for Node, wherever the command is called from, and hands over to them.
import { runProgram } from "./ready.mjs";

await runProgram("main");
