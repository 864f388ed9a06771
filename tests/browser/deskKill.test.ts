import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, describe, expect, test } from "vitest";
import { editWords } from "../../src/actions/desk/edit.ts";
import { openWords, wordsOf } from "../../src/actions/desk/words.ts";
import { parseVtt, validateVtt } from "../../src/webvtt/index.ts";
import { layLongEpisode } from "../support/longEpisode.ts";
import { AFTERAIR } from "../support/program.ts";
import { randomOfRun } from "../support/seed.ts";
import { atDesk } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";

const ID = "2027-03-01";
const NOW = "2027-03-02T08:00:00Z";
/** How often the server is killed; more by KILLS=50. */
const KILLS = Number(process.env.KILLS ?? 12);
/** Words are typed into so many captions by turns: into each so few that it is not cut. */
const CAPTIONS = Math.max(15, Math.ceil(KILLS / 4));

describe.skipIf(BROWSER === null)(`a desk that is killed while somebody types${UNLESS_BROWSER}`, () => {
  const here = atDesk({ now: NOW, prepare: () => layLongEpisode(here.content, ID, 150) });
  const transcript = () => here.file(ID, "transcript.vtt");
  let server: ChildProcess | null = null;
  afterAll(() => {
    server?.kill("SIGKILL");
  });

  /** Opens the desk in a process of its own, at the address where it was. */
  const open = async (port: number): Promise<ChildProcess> => {
    const places = ["--content", here.content, "--out", join(here.place, "site"), "--port", String(port)];
    const child = spawn(process.execPath, [AFTERAIR, "desk", ...places], { stdio: ["ignore", "pipe", "inherit"] });
    server = child;
    const gone = once(child, "exit").then(() => {
      throw new Error("The desk did not open.");
    });
    await Promise.race([once(child.stdout, "data"), gone]);
    gone.catch(() => undefined);
    return child;
  };
  const kill = async (child: ChildProcess): Promise<void> => {
    const gone = once(child, "exit");
    child.kill("SIGKILL");
    await gone;
  };

  test(
    `killed ${KILLS} times, nothing that was typed is lost, no file is torn, and undo leads back to the beginning`,
    async () => {
      const random = randomOfRun();
      const { page } = here.own;
      const first = [await transcript(), await here.file(ID, "episode.md")];
      const { port, url } = here.desk;
      await here.away();
      let running = await open(port);
      const load = async () => {
        await page.goto(`${url}words/${ID}`);
        await page.locator(".desk-caption").first().waitFor();
      };
      await load();
      const typed = wordsOf(await openWords(here.content, ID, new Date(NOW))).captions.map(({ text }) => text);
      let inMidst = 0;
      for (let n = 0; n < KILLS; n++) {
        const at = n % CAPTIONS;
        await page.locator(`#c${at} .desk-text`).focus();
        await page.keyboard.press("End");
        const word = ` n${n}`;
        await page.keyboard.type(word);
        typed[at] += word;
        // Every other time while the server is busy with what was typed.
        if (n % 2 === 0) {
          const asked = await page
            .waitForRequest((request) => request.method() === "POST", { timeout: 4000 })
            .catch(() => null);
          if (asked !== null) inMidst++;
          await pause(random.whole(0, 80));
        } else await pause(random.whole(0, 400));
        await kill(running);
        const text = await transcript();
        expect(validateVtt(parseVtt(text), "captions", "transcript.vtt"), `after kill ${n + 1}`).toEqual([]);
        expect(parseVtt(text).cues).toHaveLength(150);
        running = await open(port);
        // Somebody may close the page too, and open it again.
        if (n % 5 === 4) await load();
      }
      await page.locator(".desk-saved", { hasText: /^Saved$/ }).waitFor({ timeout: 60_000 });
      await kill(running);
      const words = wordsOf(await openWords(here.content, ID, new Date(NOW)));
      expect(words.captions.map(({ text }) => text)).toEqual(typed);
      expect(inMidst).toBeGreaterThan(0);
      expect(await page.locator(".desk-mine").count()).toBe(0);
      for (let now = words; now.canUndo; now = wordsOf(await openWords(here.content, ID, new Date(NOW)))) {
        const { version } = now;
        const done = await editWords({
          content: here.content,
          id: ID,
          version,
          edit: { op: "undo" },
          now: new Date(NOW),
        });
        if (done.is !== "done") throw new Error(`It could not be undone: ${JSON.stringify(done)}`);
      }
      expect([await transcript(), await here.file(ID, "episode.md")]).toEqual(first);
    },
    60_000 + KILLS * 10_000,
  );
});
