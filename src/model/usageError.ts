/** A fault of the call or its surroundings, not of ours: shown without a stack, exit code 2. */
export class UsageError extends Error {}
