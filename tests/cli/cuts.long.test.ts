import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ffmpeg, HAS_FFMPEG, UNLESS_FFMPEG } from "../support/sound.ts";
import { ID, type SoundStage, soundStage } from "../support/soundStage.ts";

let on: SoundStage;
beforeEach(() => {
  on = soundStage();
});
afterEach(() => on.remove());

const withdraw = () =>
  on.run("correct", ID, "--kind", "withdrawal", "--segment", "ferries", "--signed", "Desk", "--note", "Gone.", "--yes");
/** Takes the withheld report out of the recording of the unpublished episode, and publishes it. */
const published = () => {
  expect(on.run("cuts", ID, "--make", "--write").code).toBe(0);
  expect(on.run("publish", ID)).toMatchObject({ code: 0 });
};

describe.skipIf(!HAS_FFMPEG)(`afterair cuts${UNLESS_FFMPEG}`, { timeout: 120_000 }, () => {
  test("lists what stays and what goes, by timecode and seconds, without ffmpeg too", () => {
    const { code, out } = on.runWithout("cuts", ID, "--source", on.aired);
    expect(code).toBe(0);
    expect(out.split("\n").slice(0, 10)).toEqual([
      `${ID}: how the public recording is made from the programme as broadcast. Times are the source's; timecode at 25 frames a second.`,
      "",
      "           from         to             from s      to s  length s",
      "keep       00:00:00:00  00:00:05:06     0.000     5.250     5.250",
      "leave out  00:00:05:06  00:00:07:13     5.250     7.500     2.250  break",
      "keep       00:00:07:13  00:00:12:03     7.500    12.125     4.625",
      "leave out  00:00:12:03  00:00:15:00    12.125    15.000     2.875  talks, withheld",
      "keep       00:00:15:00  00:00:24:00    15.000    24.000     9.000",
      "",
      "The public recording runs 0:18.875.",
    ]);
    expect(out).toContain(`\nffmpeg -nostdin`);
  });

  // SMPTE ST 12-1: at 29.97 drop-frame, 12.125 s is frame 363, and no label is left out in the first minute.
  test("counts drop-frame where the programme does", () => {
    const programme = join(on.content, "programme.md");
    writeFileSync(programme, readFileSync(programme, "utf8").replace("framerate: 25", "framerate: 29.97"));
    const { out } = on.runWithout("cuts", ID);
    expect(out).toContain("timecode at 29.97 frames a second, drop-frame");
    expect(out).toMatch(/leave out {2}00:00:09;26 {2}00:00:12;22 {5}9\.875 {4}12\.750/);
  });

  test("as data, the same", () => {
    const data = JSON.parse(on.runWithout("cuts", ID, "--format", "json").out);
    expect(data).toMatchObject({
      episode: ID,
      source: "web",
      framerate: 25,
      dropframe: false,
      length: 21.75,
      result: 18.875,
      stretches: [
        { does: "keep" },
        {
          does: "cut",
          from: { seconds: 9.875, timecode: "00:00:09:22" },
          to: { seconds: 12.75, timecode: "00:00:12:19" },
          why: ["talks, withheld"],
        },
        { does: "keep", to: { seconds: 21.75 } },
      ],
    });
    expect(data.commands[0].slice(0, 2)).toEqual(["ffmpeg", "-nostdin"]);
  });

  test("the command that it prints makes, in a shell, the very file that --make makes", () => {
    const printed = on.run("cuts", ID, "--make");
    expect(printed.code).toBe(0);
    const made = readFileSync(on.path("web.2.mp3"));
    rmSync(on.path("web.2.mp3"));
    const command = printed.out.split("\n").find((line) => line.startsWith("ffmpeg ")) ?? "";
    expect(spawnSync("sh", ["-c", command]).status).toBe(0);
    expect(readFileSync(on.path("web.2.mp3")).equals(made)).toBe(true);
  });

  test("without ffmpeg, --make says so, prints the command all the same, and ends with 2", () => {
    const { code, out, err } = on.runWithout("cuts", ID, "--make");
    expect(code).toBe(2);
    expect(err).toContain("ffmpeg is not installed here, or AFTERAIR_FFMPEG names another program (/nowhere/ffmpeg)");
    expect(out).toContain("\nffmpeg -nostdin");
    expect(existsSync(on.path("web.2.mp3"))).toBe(false);
  });

  test("shows what to put into episode.md; --write puts it there, and all else stays", () => {
    const shown = on.run("cuts", ID, "--make", "--source", on.aired);
    expect(shown.out).toContain("web.2.mp3 runs 0:18.875, the sound beside 6 seams within");
    const bytes = readFileSync(on.path("web.2.mp3")).length;
    const yaml = `duration: 0:18.875
media:
  - { src: web.2.mp3, type: audio/mpeg, bytes: ${bytes} }
cuts:
  - { from: 0:05.250, to: 0:07.500, why: break }
  - { from: 0:12.125, to: 0:15, why: withheld }
`;
    expect(shown.out).toContain(yaml);
    const before = on.read();
    expect(on.run("cuts", ID, "--make", "--write", "--source", on.aired).code).toBe(0);
    const own = (text: string) => text.split("\n").filter((line) => !/^duration|src:|from:/.test(line));
    expect(own(on.read())).toEqual(own(before));
    for (const line of ["duration: 0:18.875", "src: web.3.mp3", "{ from: 0:12.125, to: 0:15, why: withheld }"])
      expect(on.read()).toContain(line);
    expect(on.run("check", ID).err + on.run("check", ID).out).not.toContain("sound-in-file");
    expect(on.run("cuts", ID).out).toContain("There is nothing to leave out");
    expect(on.run("cuts", ID, "--check", "--source", on.aired)).toMatchObject({ code: 0, err: "" });
  });

  test("the sound of what was left out is in no sample of the result", () => {
    published();
    // Its pitches are 300 + 45 x 12 to 14, which is 840 to 930 Hz: what is left of them in that band is hiss.
    const level = (file: string, from: string, length: string) => {
      const heard = ffmpeg(
        "-ss",
        from,
        "-t",
        length,
        "-i",
        file,
        "-af",
        "bandpass=f=885:w=90,volume=1",
        "-f",
        "s16le",
        "-ac",
        "1",
        "pipe:1",
      );
      let sum = 0;
      for (let at = 0; at + 1 < heard.length; at += 2) sum += heard.readInt16LE(at) ** 2;
      return Math.sqrt(sum / (heard.length / 2));
    };
    expect(level(on.path("web.mp3"), "10", "2.5")).toBeGreaterThan(10 * level(on.path("web.2.mp3"), "0", "18.8"));
  });

  test("an episode that is published keeps every time: silence, and its record holds", () => {
    published();
    const frozen = on.run("audit").out;
    expect(withdraw()).toMatchObject({ code: 0 });
    const { code, out } = on.run("cuts", ID, "--make", "--write");
    expect({ code, out }).toMatchObject({ code: 0, out: expect.stringMatching(/^silence .* ferries, withdrawn$/m) });
    expect(out).toContain("web.3.mp3 runs 0:18.875");
    expect(out).toContain("digital silence where it is silenced");
    expect(on.read()).toContain("in: 0:07.500, rights: { sound: silenced }, by: [Ilse Marrane] }");
    expect(on.read()).toContain("duration: 0:18.875");
    expect(on.run("audit").out).toBe(frozen);
    expect(on.run("audit").code).toBe(0);
  });

  test("--silence silences an unpublished one too", () => {
    const { out } = on.run("cuts", ID, "--silence", "--make", "--write");
    expect(out).toContain("web.2.mp3 runs 0:21.750");
    expect(on.read()).toContain("show: nothing, sound: silenced }");
    expect(on.run("cuts", ID, "--check").code).toBe(0);
  });

  test("what is said to be silent and is not is found, and so is a file of another length", () => {
    on.edit("show: nothing }", "show: nothing, sound: silenced }");
    const { code, err } = on.run("cuts", ID, "--check");
    expect(code).toBe(1);
    expect(err).toContain("sound-not-silent");
    expect(err).toContain("web.mp3 is not silent from 0:09.875 to 0:12.750");
    on.edit("duration: 0:21.750", "duration: 0:22.750");
    expect(on.run("cuts", ID, "--check").err).toContain("runs 0:21.750, and should run 0:22.750");
  });

  test("--check without ffmpeg says that nothing was checked", () => {
    const { code, out } = on.runWithout("cuts", ID, "--check");
    expect([code, out]).toEqual([2, "web.mp3: not checked.\n"]);
  });

  test("a source that can't be what it is said to be is refused before anything is made", () => {
    const wrong = on.run("cuts", ID, "--make", "--source", on.path("web.mp3"));
    expect(wrong.code).toBe(1);
    expect(wrong.err).toContain("runs 0:21.750, and the broadcast 0:24 by episode.md.");
    expect(wrong.err).toContain("or say `--from web`");
    expect(readdirSync(on.path("."))).not.toContain("web.2.mp3");
  });

  test.each([
    ["a file that is not there", ["--source", "nowhere.wav"], "There is no file nowhere.wav"],
    ["an address", ["--source", "https://media.example.org/a.mp3"], "--source takes a recording on this machine"],
    ["--write alone", ["--write"], "--write goes with --make"],
    ["a name that can't be written", ["--make", "public.txt"], "--make writes .mp3"],
    ["--write for a file elsewhere", ["--make", "public.mp3", "--write"], "--write is for files beside episode.md"],
    ["another kind of source", ["--from", "tape"], "Allowed choices are aired, web"],
  ])("%s is wrong usage", (_why, args, says) => {
    const { code, err } = on.run("cuts", ID, ...args);
    expect(code).toBe(2);
    expect(err).toContain(says);
  });

  test("what is true of one file is never written down of another", () => {
    ffmpeg("-i", on.path("web.mp3"), on.path("web.ogg"));
    on.edit("\nclock: aired", "\n  - { src: web.ogg, type: audio/ogg }\nclock: aired");
    const before = on.read();
    const one = on.run("cuts", ID, "--make", on.path("one.mp3"), "--write");
    expect([one.code, on.read()]).toEqual([2, before]);
    expect(one.err).toContain("--write would say of web.ogg what is true of the new file alone");
    const shown = on.run("cuts", ID, "--make", on.path("one.mp3"));
    expect(shown.out).toContain("Before you do: these still hold what may not be given: web.ogg.");
    expect(on.run("cuts", ID, "--make", "--write").code).toBe(0);
    expect(on.read()).toMatch(/web\.2\.mp3[\s\S]*web\.2\.ogg/);
  });

  test("what was accepted stays in, and is told", () => {
    on.edit("show: nothing }", 'show: nothing, sound: in-file, because: "The contract allows it." }');
    const { out } = on.run("cuts", ID);
    expect(out).toContain("talks may not be given, and stays in the file: The contract allows it.");
    expect(out).toContain("There is nothing to leave out");
  });

  test("a recording on another host: the command waits for a name", () => {
    on.edit("src: web.mp3", "src: https://media.example.org/2026-10-05.mp3");
    const programme = join(on.content, "programme.md");
    writeFileSync(
      programme,
      readFileSync(programme, "utf8").replace("framerate:", 'mediahosts: ["https://media.example.org"]\nframerate:'),
    );
    const { code, out } = on.run("cuts", ID);
    expect(code).toBe(0);
    expect(out).toContain("Write the name of your copy of the recording for SOURCE");
    expect(out).toContain("-i file:SOURCE");
    expect(out).toContain("file:2026-10-05.2.mp3");
    expect(on.run("cuts", ID, "--make").code).toBe(2);
    const made = on.run("cuts", ID, "--make", "--source", on.aired);
    expect(made.out).toContain("{ src: https://media.example.org/2026-10-05.2.mp3, type: audio/mpeg");
    expect(made.out).toContain("Before you do: put the new file on its host.");
  });
});
