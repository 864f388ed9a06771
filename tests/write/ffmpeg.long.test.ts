import { spawnSync } from "node:child_process";
import { copyFileSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cutList } from "../../src/derive/cutList.ts";
import { compare, comparisonsOf, loudestPiece, RATE, silencesOf } from "../../src/derive/soundCheck.ts";
import type { CutList } from "../../src/model/cutList.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";
import { type Ffmpeg, findFfmpeg, sampleStream } from "../../src/write/ffmpeg.ts";
import { formatOf, makingArgs, OUT_ENDINGS, shellCommand } from "../../src/write/ffmpegArgs.ts";
import { cutsOf } from "../support/episodes.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { ffmpeg, HAS_FFMPEG, TRACK_RATE, track, UNLESS_FFMPEG, writeWav } from "../support/sound.ts";

const SECONDS = 24;

/** Twenty-four seconds as broadcast: a break from 5.25 to 7.5 that is cut, and words from 12.125 to 15 that may not be heard. */
const list = (way: "cut" | "silence", length: number | null = null): CutList =>
  cutList({
    episode: { clock: "aired", cuts: cutsOf([[5250, 7500]]), duration: mediaMs(21_750) },
    unwanted: [{ from: clockMs(12_125), to: clockMs(15_000), why: "withheld", does: way }],
    source: "aired",
    length,
  });
const making = (own: CutList, source: string, out: string, kbps: number | null = null) => {
  const format = formatOf(out);
  if (format === null) throw new Error(out);
  return { list: own, source, out, format, kbps };
};

describe("the arguments", () => {
  const args = makingArgs(making(list("cut"), "-i evil.wav", "out.mp3", 64));

  test("a name that looks like an option or an address is a file's, and no address is opened", () => {
    expect(args.slice(0, 6)).toEqual([
      "-nostdin",
      "-hide_banner",
      "-protocol_whitelist",
      "file,pipe",
      "-i",
      "file:-i evil.wav",
    ]);
    expect(args.at(-1)).toBe("file:out.mp3");
  });
  test("the sound is cut to the thousandth, and the last piece runs to the end of the file", () => {
    expect(args[args.indexOf("-filter_complex") + 1]).toBe(
      "[0:a:0]aresample=async=1:first_pts=0,asplit=3[s0][s1][s2];" +
        "[s0]atrim=start=0.000:end=5.250,asetpts=PTS-STARTPTS[p0];" +
        "[s1]atrim=start=7.500:end=12.125,asetpts=PTS-STARTPTS[p1];" +
        "[s2]atrim=start=15.000,asetpts=PTS-STARTPTS[p2];" +
        "[p0][p1][p2]concat=n=3:v=0:a=1[a]",
    );
  });
  test("nothing else of the source goes along", () => {
    expect(args.join(" ")).toContain("-map [a] -map_metadata -1 -map_chapters -1");
  });
  test.each([
    ["a.MP3", true],
    ["a.b.ogg", true],
    ["a.exe", false],
    ["mp3", false],
    [".mp3/x", false],
  ])("%s can be written: %s", (name, can) => {
    expect(formatOf(name) !== null).toBe(can);
  });
});

describe("the command for a shell", () => {
  const words = ["ffmpeg", "-i", 'file:It\'s a "$HOME" `x`; rm *.mp3', "[a];[b]", "", "--", "a\\b", "é"];

  test("gives a POSIX shell the very same words", () => {
    const shell = spawnSync("sh", ["-c", `printf '%s\\0' ${shellCommand(words)}`], { encoding: "utf8" });
    expect(shell.stdout.split("\0").slice(0, -1)).toEqual(words);
  });
  test("plain words stand as they are", () => {
    expect(shellCommand(["-b:a", "64k", "file:web-2.mp3"])).toBe("-b:a 64k file:web-2.mp3");
  });
});

test("samples that come in pieces are whole", () => {
  const samples = Float32Array.from([0.5, -0.25, 1e-9, 0]);
  const stream = sampleStream();
  const bytes = new Uint8Array(samples.buffer);
  const heard = [0, 1, 6, 7, 15].map((from, n, all) => stream(bytes.slice(from, all[n + 1] ?? 16)));
  expect(heard.flatMap((own) => [...own])).toEqual([...samples]);
});

test("a program that is not there, or is another, is none", async () => {
  expect(await findFfmpeg("/nowhere/ffmpeg")).toBeNull();
  expect(await findFfmpeg("true")).toBeNull();
});

describe.skipIf(!HAS_FFMPEG)(`what ffmpeg makes${UNLESS_FFMPEG}`, { timeout: 60_000 }, () => {
  let folder: string;
  let own: Ffmpeg;
  let source: string;
  beforeAll(async () => {
    folder = await newFolder();
    source = join(folder, "aired.wav");
    writeWav(source, track(SECONDS));
    const found = await findFfmpeg("ffmpeg");
    if (found === null) throw new Error("no ffmpeg");
    own = found;
  });
  afterAll(() => removeFolder(folder));

  const pcm = (file: string, ...more: readonly string[]) =>
    ffmpeg(...more, "-i", file, "-f", "s16le", "-ac", "1", "-ar", String(TRACK_RATE), "pipe:1");
  const make = async (way: "cut" | "silence", name: string, from = source, kbps: number | null = null) => {
    const out = join(folder, name);
    const made = await own.make(making(list(way), from, out, kbps), () => {});
    expect(made).toEqual({ ok: true, value: null });
    return out;
  };

  // The outside reference: ffmpeg's own -ss and -t before -i, of a file without compression, give the same samples.
  test("a cut is the pieces that -ss and -t give, sample for sample", async () => {
    const pieces = [
      ["0", "5.25"],
      ["7.5", "4.625"],
      ["15", "9"],
    ].map(([from = "", length = ""]) => pcm(source, "-ss", from, "-t", length));
    expect(pcm(await make("cut", "cut.wav")).equals(Buffer.concat(pieces))).toBe(true);
  });

  test("silence is as long as what it stands for, to the sample", async () => {
    const pieces = [
      pcm(source, "-t", "5.25"),
      pcm(source, "-ss", "7.5", "-t", "4.625"),
      Buffer.alloc(2.875 * TRACK_RATE * 2),
      pcm(source, "-ss", "15"),
    ];
    expect(pcm(await make("silence", "silence.wav")).equals(Buffer.concat(pieces))).toBe(true);
  });

  /** Where each seam is, what the silence is like, and how long it all runs. */
  async function judged(way: "cut" | "silence", made: string, from = source) {
    const comparisons = comparisonsOf(list(way));
    const [was, is] = await Promise.all([
      own.listen(
        from,
        RATE,
        comparisons.map((one) => one.source),
      ),
      own.listen(made, RATE, [...comparisons.map((one) => one.made), ...silencesOf(list(way))]),
    ]);
    if (!was.ok || !is.ok) throw new Error("not heard");
    const shifts = comparisons.map((one, n) =>
      compare(one, was.value.windows[n] ?? new Float32Array(), is.value.windows[n] ?? new Float32Array()),
    );
    const silences = is.value.windows.slice(comparisons.length).map(loudestPiece);
    return { ms: is.value.ms, shifts: shifts.map((one) => (one.is === "found" ? Math.abs(one.shift) : 999)), silences };
  }

  const heard = async (file: string) => {
    const told = await own.listen(file, RATE, []);
    if (!told.ok) throw new Error(told.says);
    return told.value;
  };

  // Codecs that put samples in front: MP3 about 1105, Opus 312 at 48,000, AAC 1024 and more. Players take them off.
  // The last frame of AAC stays whole: 1024 samples are 43 ms here.
  test.each([
    ["a.mp3", 1],
    ["a.ogg", 1],
    ["a.opus", 1],
    ["a.m4a", 43],
    ["a.flac", 1],
  ])("%s: as long as the time map says, every seam in its place", async (name, longer) => {
    for (const way of ["cut", "silence"] as const) {
      const { ms, shifts, silences } = await judged(way, await make(way, `${way}-${name}`, source, 48));
      expect(Math.abs(ms - list(way).result)).toBeLessThan(longer);
      expect(Math.max(...shifts)).toBeLessThan(2);
      expect(Math.max(-100, ...silences)).toBeLessThan(-60);
    }
  });

  test("from a file that an encoder lengthened, the seams are where they should be", async () => {
    const mp3 = join(folder, "aired.mp3");
    ffmpeg("-i", source, "-b:a", "48k", mp3);
    const { shifts } = await judged("cut", await make("cut", "again.ogg", mp3));
    expect(Math.max(...shifts)).toBeLessThan(2);
  });

  test("same source, same bytes, whatever is written", async () => {
    for (const ending of OUT_ENDINGS.filter((one) => formatOf(one)?.video === false)) {
      const [first, second] = [await make("cut", `one${ending}`), await make("cut", `two${ending}`)];
      expect(readFileSync(first).equals(readFileSync(second)), ending).toBe(true);
    }
  });

  test.each(["pictures.mp4", "pictures.webm"])(
    "%s go with the sound, and are black where it is silent",
    async (name) => {
      const film = join(folder, `film-${name}`);
      // Each second has a brightness of its own: 40, 46, 52 and so on.
      const picture = `color=size=32x32:rate=25:duration=${SECONDS},format=yuv420p,geq=lum='40+6*floor(T)':cb=128:cr=128`;
      ffmpeg("-f", "lavfi", "-i", picture, "-i", source, ...(name.endsWith("webm") ? [] : ["-qp", "10"]), film);
      for (const way of ["cut", "silence"] as const) {
        const made = await make(way, `${way}-${name}`, film);
        const frames = [
          ...ffmpeg(
            "-i",
            made,
            "-vf",
            "fps=25,scale=1:1:in_range=tv:out_range=tv,format=gray",
            "-f",
            "rawvideo",
            "pipe:1",
          ),
        ];
        const shift = way === "cut" ? [2250, 5125] : [2250, 2250];
        const expected = (at: number): number => {
          const aired = at < 5250 ? at : at < 9875 ? at + (shift[0] ?? 0) : at + (shift[1] ?? 0);
          return way === "silence" && aired >= 12_125 && aired < 15_000 ? 16 : 40 + 6 * Math.floor(aired / 1000);
        };
        // A tenth of a second past each half second: three frames or more from every edge.
        for (let at = 100; at < list(way).result; at += 500)
          expect(Math.abs((frames[Math.round(at / 40)] ?? 0) - expected(at)), `${way} at ${at}`).toBeLessThanOrEqual(3);
        const { shifts, ms } = await judged(way, made, film);
        // Opus in WebM begins 7 ms before its zero.
        expect(Math.max(...shifts)).toBeLessThan(8);
        expect(Math.abs(ms - list(way, (await heard(film)).ms).result)).toBeLessThan(50);
      }
    },
  );

  test("never writes over a file, and leaves none of its own behind", async () => {
    const out = join(folder, "taken.wav");
    writeFileSync(out, "somebody's");
    const before = readdirSync(folder);
    const made = await own.make(making(list("cut"), source, out), () => {});
    expect(made).toEqual({ ok: false, says: `${out} is there already, and was left as it is` });
    expect(readFileSync(out, "utf8")).toBe("somebody's");
    const broken = join(folder, "broken.mp3");
    writeFileSync(broken, "no sound");
    expect((await own.make(making(list("cut"), broken, join(folder, "none.mp3")), () => {})).ok).toBe(false);
    expect(readdirSync(folder).sort()).toEqual([...before, "broken.mp3"].sort());
  });

  // Nobody may make files in sysfs.
  test.skipIf(process.platform !== "linux")(
    "where nothing can be written, it says so in the words of all writers",
    async () => {
      const written = own.make(making(list("cut"), source, "/sys/none.wav"), () => {});
      await expect(written).rejects.toThrow(/^\/sys can't be written: .* Nothing was written\.$/);
    },
  );

  test("names that look like options, patterns or addresses are files", async () => {
    for (const name of ["-y.wav", "concat:a|b.wav", "http:x.wav", "a %d [b].wav", "it's.wav"]) {
      copyFileSync(source, join(folder, name));
      expect(await make("cut", `made of ${name}`, join(folder, name))).toBe(join(folder, `made of ${name}`));
    }
  });

  test("a list of other files, or an address, is not followed", async () => {
    const playlist = join(folder, "list.m3u8");
    writeFileSync(playlist, "#EXTM3U\n#EXT-X-TARGETDURATION:5\n#EXTINF:5,\nhttp://127.0.0.1:9/a.ts\n#EXT-X-ENDLIST\n");
    expect((await own.listen(playlist, RATE, [])).ok).toBe(false);
  });

  test("tells how far it is", async () => {
    const told: number[] = [];
    await own.make(making(list("cut"), source, join(folder, "told.mp3")), (ms) => told.push(ms));
    expect(told.at(-1)).toBeGreaterThan(15_000);
  });
});
