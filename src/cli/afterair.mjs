#!/usr/bin/env node
// Makes the TypeScript sources ready for Node, wherever the command is called from, and hands over to them.
import { runProgram } from "../build/ready.mjs";

await runProgram("cli/main");
