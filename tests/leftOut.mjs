// The last line of `npm test`: what it left out, and how to run that.
import { readdirSync } from "node:fs";

const files = readdirSync(import.meta.dirname, { recursive: true });
const long = files.filter((file) => file.endsWith(".long.test.ts")).length;
console.log(
  `Left out: ${long} long test files (npm run test:long) and the browser tests (npm run test:browser). All of it: npm run check:all.`,
);
