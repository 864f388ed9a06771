// A thread that looks at files while the build looks at others: makes the TypeScript sources ready, and hands over to them.
import { runProgram } from "./ready.mjs";

await runProgram("lookWorker");
