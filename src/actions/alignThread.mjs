// A thread of its own that looks for words or names in a recording: makes the TypeScript sources ready for Node, and hands over to them.
import { runProgram } from "../build/ready.mjs";

await runProgram("actions/alignThread");
