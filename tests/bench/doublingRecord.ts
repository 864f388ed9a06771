import type { Grown } from "./doubling.ts";
export async function grownRecord(): Promise<readonly Grown[]> {
  return [];
}
