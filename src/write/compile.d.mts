/** The digest of our own code, the packages and the Node that runs it. */
export declare function programDigest(): string;

/** Digest of files below a folder, by their paths in it. @param paths of files, or of folders with all in them. */
export declare function digestBelow(root: string, paths: readonly string[], salt: string): string;

/**
 * Compiles TypeScript, with all of ours that it imports, to JavaScript that Node reads: once, then it is kept.
 * @param entries full paths; no two of one name. @param digest of all that they are made from, and of which they are.
 * @returns addresses to import, in the order of the entries.
 * @throws where nothing can be written, or the sources can't be compiled.
 */
export declare function compiled(entries: readonly string[], digest: string): Promise<readonly string[]>;
