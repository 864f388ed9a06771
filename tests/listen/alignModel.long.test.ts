import { describe, expect, test } from "vitest";
import { PLACE, parseModel } from "../../src/listen/alignModel.ts";
import { HAS_MODEL, modelFiles } from "../support/listening.ts";

if (!HAS_MODEL) console.warn("pocketsphinx-en-us isn't installed: its model was not read.");

describe.skipIf(!HAS_MODEL)("Debian's acoustic model", () => {
  test("has the phones, states and Gaussians that its head and its README tell", () => {
    const model = parseModel(modelFiles());
    expect(model.phones.size).toBe(42);
    expect(model.silence).toBe(model.phones.get("SIL"));
    expect(model.fillers.map((phone) => [...model.phones].find(([, n]) => n === phone)?.[0])).toEqual([
      "+NSN+",
      "+SPN+",
      "SIL",
    ]);
    expect([model.states, model.streams, model.densities, model.width]).toEqual([5126, 3, 128, 13]);
    // Every state belongs to the phone whose sequence it stands in: the first 126 are those of the phones alone.
    expect([...model.phoneOf.slice(0, 126)]).toEqual(Array.from({ length: 126 }, (_, n) => Math.floor(n / 3)));
    for (const half of model.halves) expect(half > 0 && half <= 5000).toBe(true);
    // Staying and going on are all that a state does, but for the few that may skip one.
    for (let n = 0; n < model.moves.length; n += 2)
      expect(Math.exp(model.moves[n] ?? 0) + Math.exp(model.moves[n + 1] ?? 0)).toBeLessThan(1.001);
  });

  test("a phone has other states between other phones, and its own where such a context was never met", () => {
    const model = parseModel(modelFiles());
    const phone = (name: string) => model.phones.get(name) ?? -1;
    const inBat = model.statesOf(phone("AE"), phone("B"), phone("T"), PLACE.inside);
    const inCab = model.statesOf(phone("AE"), phone("K"), phone("B"), PLACE.inside);
    expect(inBat).toHaveLength(3);
    expect(inBat).not.toEqual(inCab);
    for (const state of [...inBat, ...inCab]) expect(model.phoneOf[state]).toBe(phone("AE"));
    const silence = phone("SIL");
    expect(model.statesOf(silence, silence, silence, PLACE.inside)).toEqual([
      silence * 3,
      silence * 3 + 1,
      silence * 3 + 2,
    ]);
  });

  test.each([
    ["mdef", (bytes: Uint8Array) => bytes.slice(0, 5000)],
    ["means", (bytes: Uint8Array) => bytes.slice(0, 5000)],
    ["variances", () => new Uint8Array(10)],
    ["transitions", () => new TextEncoder().encode("s3\nversion 1.0\n")],
    ["sendump", (bytes: Uint8Array) => bytes.slice(0, 5000)],
  ] as const)("a damaged %s is refused", (name, change) => {
    const files = modelFiles();
    expect(() => parseModel({ ...files, [name]: change(files[name]) })).toThrow();
  });
});
