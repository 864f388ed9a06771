// Adds up the results of several test runs in one line; fails when a run left none, or nothing ran.
import { readFileSync } from "node:fs";

const runs = process.argv.slice(2).map((file) => JSON.parse(readFileSync(file, "utf8")));
const sum = (key) => runs.reduce((total, run) => total + run[key], 0);
const [passed, failed, skipped] = [sum("numPassedTests"), sum("numFailedTests"), sum("numPendingTests")];
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`);
process.exitCode = failed === 0 && runs.every((run) => run.numPassedTests > 0) ? 0 : 1;
