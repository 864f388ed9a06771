// A process of its own for jobs of a build: makes the TypeScript sources ready for Node, and hands over to them.
import { runProgram } from "./ready.mjs";

await runProgram("build/jobProcess");
