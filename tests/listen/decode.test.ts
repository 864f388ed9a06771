import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { asMono, decode, UndecodableSound } from "../../src/listen/decode.ts";
import { kindOf } from "../../src/listen/decodeKind.ts";
import { collected, type Encoding, inChunks, joinedSamples, piecesOf, sine, wavOf } from "../support/sounds.ts";

const TEXT = new TextEncoder();
const EPISODE = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05");

describe("what a file is, by its first bytes", () => {
  test.each([
    ["nothing", new Uint8Array(0), "other"],
    ["text", TEXT.encode("WEBVTT\n\n00:00.000 --> 00:01.000\n"), "other"],
    ["a picture in RIFF", TEXT.encode("RIFF\0\0\0\0WEBPVP8 "), "other"],
    ["wav", wavOf([sine(8000, 0.1, 440)], 8000), "wav"],
    ["mp3 with a tag", TEXT.encode("ID3\x04"), "mp3"],
    ["mp3 without one", new Uint8Array([0xff, 0xfb, 0x90, 0x00]), "mp3"],
    ["AAC without a container is no mp3", new Uint8Array([0xff, 0xf1, 0x50, 0x80]), "other"],
    ["mp4", TEXT.encode("\0\0\0\x20ftypM4A "), "other"],
    ["flac", TEXT.encode("fLaC"), "flac"],
  ])("%s", (_what, head, kind) => {
    expect(kindOf(head)).toBe(kind);
  });
});

describe("wav", () => {
  test.each<[Encoding, number]>([
    ["u8", 1 / 100],
    ["s16", 1 / 20_000],
    ["s24", 1 / 8_000_000],
    ["s32", 1e-7],
    ["f32", 1e-7],
  ])("samples of the kind %s come out as they went in", async (encoding, most) => {
    const channels = [sine(8000, 0.25, 440), sine(8000, 0.25, 300, 0.9)];
    const { all, end } = await piecesOf(wavOf(channels, 8000, encoding));
    expect(end).toEqual({ kind: "wav", rate: 8000, channels: 2, ms: 250, faults: 0, firstFault: null });
    channels.forEach((channel, n) => {
      const own = joinedSamples(all.map((piece) => piece.channels[n] ?? new Float32Array(0)));
      expect(own.length).toBe(channel.length);
      expect(Math.max(...own.map((sample, k) => Math.abs(sample - (channel[k] ?? 0))))).toBeLessThan(most);
    });
  });

  test("is the same however the bytes are parted", async () => {
    const bytes = wavOf([sine(8000, 0.05, 440), sine(8000, 0.05, 300)], 8000, "s24");
    const whole = joinedSamples(
      (await piecesOf(bytes)).all.map(({ channels: [first] }) => first ?? new Float32Array(0)),
    );
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 600 }), async (length) => {
        const { all } = await collected(decode(inChunks(bytes, length)));
        expect(joinedSamples(all.map(({ channels: [first] }) => first ?? new Float32Array(0)))).toEqual(whole);
      }),
      { numRuns: 40 },
    );
  });

  test("one that was cut off gives what is there, and says how much is missing", async () => {
    const bytes = wavOf([sine(8000, 2, 440)], 8000);
    const { end } = await piecesOf(bytes.slice(0, 44 + 8000));
    expect(end).toMatchObject({ ms: 500, faults: 1 });
    expect(end.firstFault).toBe("the file ends 1.5 seconds before the end that its header gives");
  });
});

describe("what can't be decoded is said in a sentence", () => {
  const broken = (change: (bytes: Uint8Array) => void): Uint8Array => {
    const bytes = wavOf([sine(8000, 0.1, 440)], 8000);
    change(bytes);
    return bytes;
  };
  test.each([
    ["nothing at all", new Uint8Array(0), "It holds no sound."],
    ["text", TEXT.encode("WEBVTT"), "It is no wav, mp3, Ogg Opus, Ogg Vorbis or flac file."],
    ["wav without samples", wavOf([new Float32Array(0)], 8000), "It holds no sound."],
    [
      "only the head of a wav file",
      wavOf([sine(8000, 1, 440)], 8000).slice(0, 30),
      "It can't be decoded: it has no samples.",
    ],
    ["wav of a telephone exchange", broken((bytes) => bytes.set([7, 0], 20)), "(format 7, 16 bits)"],
    ["wav of no channel", broken((bytes) => bytes.set([0, 0], 22)), "(format 1, 16 bits)"],
  ])("%s", async (_what, bytes, says) => {
    const failed = await piecesOf(bytes).catch((error: unknown) => error);
    expect(failed).toBeInstanceOf(UndecodableSound);
    expect(failed).toHaveProperty("says", expect.stringContaining(says));
  });
});

describe("damaged files of the demo", () => {
  const bytes = new Uint8Array(readFileSync(join(EPISODE, "web.ogg"))).slice(0, 120_000);

  test("a stretch of noise in an Ogg file costs that stretch, and is counted", async () => {
    const sound = await piecesOf(bytes);
    const damaged = bytes.slice();
    damaged.fill(0x55, 60_000, 64_000);
    const { end } = await piecesOf(damaged);
    expect(sound.end.ms).toBeGreaterThan(50_000);
    expect(end.ms).toBeGreaterThan(sound.end.ms * 0.8);
    expect(end.ms).toBeLessThanOrEqual(sound.end.ms);
  });

  test("random bytes never hang or come out as something else than a sentence", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ minLength: 1, maxLength: 400 }),
        fc.constantFrom("OggS", "fLaC", "ID3", "RIFF"),
        async (tail, head) => {
          const failed = await piecesOf(new Uint8Array([...TEXT.encode(head), ...tail])).catch(
            (error: unknown) => error,
          );
          expect(failed).toBeInstanceOf(UndecodableSound);
        },
      ),
      { numRuns: 40 },
    );
  });
});

test("asMono is the mean of the channels, at another rate", async () => {
  const bytes = wavOf([sine(48_000, 1, 1000), sine(48_000, 1, 1000, 0.1)], 48_000, "f32");
  const { all } = await collected(asMono(decode(inChunks(bytes)), 16_000));
  const own = joinedSamples(all);
  expect(own.length).toBe(16_000);
  const wanted = sine(16_000, 1, 1000, 0.3);
  for (let n = 200; n < 15_800; n++) expect(Math.abs((own[n] ?? 0) - (wanted[n] ?? 0))).toBeLessThan(1e-4);
});
