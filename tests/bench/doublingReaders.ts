import type { Grown } from "./doubling.ts";
export async function grownReaders(): Promise<readonly Grown[]> {
  return [];
}
