// Loaded before a program of ours: writes what it and its processes load and start, one a line, to the file that LOADS names.
import childProcess from "node:child_process";
import { appendFileSync } from "node:fs";
import module from "node:module";

const note = (what) => appendFileSync(process.env.LOADS, `${what}\n`);
note("process");
for (const name of ["spawn", "spawnSync", "fork", "exec", "execSync", "execFile", "execFileSync"]) {
  const real = childProcess[name];
  childProcess[name] = (...args) => {
    note(`starts ${name}`);
    return real(...args);
  };
}
module.syncBuiltinESMExports();
const hooks = `
import { appendFileSync } from "node:fs";
export async function load(url, context, next) {
  appendFileSync(${JSON.stringify(process.env.LOADS)}, "loads " + url + "\\n");
  return next(url, context);
}`;
module.register(`data:text/javascript,${encodeURIComponent(hooks)}`);
