import { parentPort } from "node:worker_threads";
import { type LookTask, lookAtAll } from "./looks.ts";

parentPort?.on("message", (task: LookTask) => parentPort?.postMessage(lookAtAll(task)));
