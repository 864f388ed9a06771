import { setFlagsFromString } from "node:v8";

/**
 * Has this process look for what it can let go of when its heap has grown by 30 %, not by several times: a build goes
 * through thirty years one after the other. Largest process with it and without, of 1,000 episodes: 136 and 143 MB with
 * an evening added, 229 and 230 cold; of 100: 122 and 124, 187 and 186. Processor time is the same.
 */
export const keepHeapSmall = (): void => setFlagsFromString("--heap-growing-percent=30");
