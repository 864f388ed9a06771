import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { HAS_FFMPEG, UNLESS_FFMPEG } from "../support/sound.ts";
import { ID, type SoundStage, soundStage } from "../support/soundStage.ts";

let on: SoundStage;
beforeEach(() => {
  on = soundStage();
});
afterEach(() => on.remove());

const page = (segment = "") => on.site(`${ID}/${segment}index.html`);
/** Whether anything on the site leads to the recording, or holds it. */
const given = (name = "web") => ({
  copied: on.site(`${ID}/${name}.mp3`) !== "",
  player: page().includes("<video"),
  source: page().includes("<source"),
  contentUrl: /"contentUrl":"[^"]*\.mp3/.test(page()),
  enclosure: on.site("feed.xml").includes("<enclosure"),
});
const ALL = { copied: true, player: true, source: true, contentUrl: true, enclosure: true };
const NONE = { copied: false, player: false, source: false, contentUrl: false, enclosure: false };
const withdraw = (segment: string) =>
  on.run("correct", ID, "--kind", "withdrawal", "--segment", segment, "--signed", "Desk", "--note", "Gone.", "--yes");

describe.skipIf(!HAS_FFMPEG)(`sound that may not be given${UNLESS_FFMPEG}`, { timeout: 240_000 }, () => {
  test("that is withheld blocks check and publish until the recording is without it", () => {
    const checked = on.run("check", ID);
    expect([checked.code, checked.out]).toEqual([1, expect.stringContaining("sound-in-file")]);
    const refused = on.run("publish", ID);
    expect(refused.code).toBe(1);
    expect(refused.err).toContain("talks is withheld, and the recording still has its sound, from 0:12.125 to 0:15");
    expect(refused.err).toContain(`Nothing was entered in the record of ${ID}.`);
    on.run("cuts", ID, "--make", "--write");
    expect(on.run("publish", ID).code).toBe(0);
    expect(on.build().code).toBe(0);
    expect(given("web.2")).toEqual(ALL);
    expect(given("web").copied).toBe(false);
  });

  test("that is withheld after publication blocks the build, and the site stays as it is", () => {
    on.edit("    rights: { withheld: true, holder: Farwater News Agency, show: nothing }\n", "");
    expect([on.run("publish", ID).code, on.build().code]).toEqual([0, 0]);
    on.edit("by: [Lucan Threave]", "by: [Lucan Threave]\n    rights: { withheld: true, show: transcript }");
    const blocked = on.build();
    expect(blocked.code).toBe(1);
    expect(blocked.err).toContain("sound-in-file");
    expect(given()).toEqual(ALL);
    // Silence moves nothing: all that was published holds.
    expect(on.run("cuts", ID, "--make", "--write").code).toBe(0);
    expect([on.build().code, on.run("audit").code]).toEqual([0, 0]);
    expect(given("web.2")).toEqual(ALL);
    expect(page()).toContain("The recording is silent there, from 0:09 to 0:12.");
  });

  test("that is accepted in the file for a reason is the page's player's alone", () => {
    on.edit("show: nothing }", 'show: nothing, sound: in-file, because: "The contract lets us stream it whole." }');
    expect([on.run("publish", ID).code, on.build().code]).toEqual([0, 0]);
    expect(given()).toEqual({ copied: true, player: true, source: false, contentUrl: false, enclosure: false });
    expect(page()).toContain("Where the script does not run, there is no player.");
    expect(page()).toContain("The player steps over it, from 0:09 to 0:12 of the recording.");
    // The reason is the house's, and no page's.
    expect(page()).not.toContain("The contract lets us");
  });

  test("that is withdrawn at seven in the evening is off the site with the next build, and back without it", () => {
    on.run("cuts", ID, "--make", "--write");
    expect([on.run("publish", ID).code, on.build().code]).toEqual([0, 0]);
    expect(given("web.2")).toEqual(ALL);
    const entered = withdraw("ferries");
    expect(entered.code).toBe(0);
    expect(entered.err).toContain("sound-withdrawn");
    const built = on.build();
    expect([built.code, built.err]).toEqual([0, expect.stringContaining("the site does without the recording")]);
    expect(given("web.2")).toEqual(NONE);
    expect(page()).toContain("The recording is not here");
    expect(page("close/")).toContain("The recording is not here");
    for (const name of ["feed.xml", `${ID}/episode.json`, `${ID}/index.html`, `${ID}/close/index.html`])
      expect(on.site(name), name).not.toContain(".mp3");
    expect(on.run("cuts", ID, "--make", "--write").code).toBe(0);
    expect([on.build().code, on.run("audit").code]).toEqual([0, 0]);
    expect(given("web.3")).toEqual(ALL);
    expect(page()).toContain("The recording is silent here, from 0:05 to 0:09.");
  });

  test("a withdrawal is entered and built while something else is accepted in the file, and takes all of it off", () => {
    on.edit("show: nothing }", "show: nothing, sound: in-file, because: A contract. }");
    expect([on.run("publish", ID).code, withdraw("ferries").code, on.build().code]).toEqual([0, 0, 0]);
    expect(given()).toEqual(NONE);
    expect(page()).not.toContain("The player steps over it");
  });

  test("what was accepted is no longer once it is withdrawn", () => {
    on.edit("show: nothing }", "show: nothing, sound: in-file, because: A contract. }");
    expect([on.run("publish", ID).code, withdraw("talks").code, on.build().code]).toEqual([0, 0, 0]);
    expect(given()).toEqual(NONE);
    const { code, out } = on.run("cuts", ID, "--make", "--write");
    // To take an acceptance out of episode.md is for a person: it says what to put there.
    expect(code).toBe(0);
    expect(out).toContain("rights: { withheld: true, holder: Farwater News Agency, show: nothing, sound: silenced }");
    expect(readFileSync(on.path("episode.md"), "utf8")).toContain("sound: in-file");
  });

  test("a draft is shown to those who work on it, by the player that steps over it, with a warning", () => {
    const built = on.run("build", "--drafts", "--out", `${on.folder}/site`);
    expect(built.code).toBe(0);
    expect(built.err).toMatch(/warns {2}sound-in-file/);
    expect(given()).toEqual({ copied: true, player: true, source: false, contentUrl: false, enclosure: false });
  });
});
