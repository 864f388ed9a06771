/** Where a program of ours stands compiled: an address to import. All are compiled together, and kept. */
export declare function addressOf(name: "cli/main" | "build/jobProcess" | "station/eleventy"): Promise<string>;

/** Runs a program of ours in this process. */
export declare function runProgram(name: "cli/main" | "build/jobProcess"): Promise<void>;
