import { type Atom, type ReadNumber, readNumber as readPlain } from "../../model/numbers.ts";
import { unitNamed } from "./units.ts";

export { type Atom, atomsOf, type ReadNumber } from "../../model/numbers.ts";

/** As `readNumber` of the model, with our units: `half a kilometre` is half of one. */
export const readNumber = (atoms: readonly Atom[], at: number): ReadNumber | null =>
  readPlain(atoms, at, (word) => unitNamed(word) !== undefined);
