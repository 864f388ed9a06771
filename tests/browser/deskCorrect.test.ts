import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { atDesk, expectSound } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";

const ID = "2026-10-05";

describe.skipIf(BROWSER === null)(`corrections at the desk${UNLESS_BROWSER}`, () => {
  const here = atDesk({ now: "2026-10-14T08:00:00Z" });
  const corrections = async () => (await readdir(join(here.content, "episodes/2026", ID, "corrections"))).length;
  const goTo = () => here.goTo(`correct/${ID}`);

  test("a complaint leads to its passage, a preview shows what the public will see, and it is entered", async () => {
    const { page } = here.own;
    const before = await corrections();
    await goTo();
    await page
      .getByLabel("What somebody wrote or said about it")
      .fill("Your headline said 11 sailings a week for ferrys");
    await page.getByRole("button", { name: "Find the passage" }).click();
    await page.getByRole("heading", { name: "It may be one of these" }).waitFor();
    expect(await page.locator(".desk-findings li").first().textContent()).toContain("11 sailings");
    await page.locator(".desk-findings button").first().click();
    await page.getByLabel("Clarification").check();
    await page.getByRole("button", { name: "Show what it will do" }).click();
    await page
      .getByText("Still missing: who signs it, the note.")
      .or(page.getByText("Still missing:"))
      .first()
      .waitFor();
    await page.getByLabel("The note that the public reads").fill("The summer timetable is another one.");
    await page.getByLabel("Signed").fill("Standards editor");
    await page.getByRole("button", { name: "Show what it will do" }).click();
    await page.getByRole("heading", { name: "As the public will see it" }).waitFor();
    expect(await page.locator(".desk-change mark").count()).toBeGreaterThan(0);
    // Seen, but not yet said to be right.
    expect(await page.getByRole("button", { name: "Enter the correction" }).isDisabled()).toBe(true);
    expect(await corrections()).toBe(before);
    await page.getByLabel("It is right.").check();
    await page.getByRole("button", { name: "Enter the correction" }).click();
    await page.getByText("Nothing of them changed in silence").waitFor({ timeout: 60_000 });
    expect(await corrections()).toBe(before + 1);
    const built = await readFile(join(here.place, "site", ID, "index.html"), "utf8");
    expect(built).toContain("The summer timetable is another one.");
  });

  test("what was changed after the preview must be looked at again", async () => {
    const { page } = here.own;
    await goTo();
    await page.getByLabel("Update").check();
    await page.getByLabel("Signed").fill("Standards editor");
    await page.getByLabel("The note that the public reads").fill("The ferry line has answered.");
    await page.getByRole("button", { name: "Show what it will do" }).click();
    await page.getByRole("heading", { name: "As the public will see it" }).waitFor();
    await page.getByLabel("The note that the public reads").fill("The ferry line has not answered.");
    expect(await page.getByRole("button", { name: "Enter the correction" }).count()).toBe(0);
  });

  test("a withdrawal says plainly what it does, and takes the words out of the site", async () => {
    const { page } = here.own;
    await goTo();
    await page.getByLabel("Withdrawal").check();
    await page.locator("select").first().selectOption("hallan-light");
    await page.getByLabel("Signed").fill("Standards editor");
    await page.getByLabel("The note that the public reads").fill("Withdrawn at the request of the family.");
    await page.getByRole("button", { name: "Show what it will do" }).click();
    await page.getByText("Takes away the segment hallan-light").waitFor();
    await page.getByLabel("I know that this takes").check();
    await page.getByRole("button", { name: "Withdraw" }).click();
    await page.getByText("Nothing of them changed in silence").waitFor({ timeout: 60_000 });
    const built = await readFile(join(here.place, "site", ID, "index.html"), "utf8");
    expect(built).toContain("Withdrawn at the request of the family.");
    expect(built).not.toContain("Osric Tarrick");
  });

  test.each(["light", "dark"] as const)(
    "no fault that axe finds, with a preview on the page, %s",
    async (colorScheme) => {
      const other = await visit(here.browser, { colorScheme, viewport: { width: 820, height: 900 } });
      const { page } = other;
      await here.goTo(`correct/${ID}`, page);
      await page.getByLabel("On-air error").check();
      await page.getByLabel("The exact published words concerned").fill("ferries");
      await page.getByLabel("Signed").fill("Standards editor");
      await page.getByLabel("The note that the public reads").fill("A note.");
      await page.getByRole("button", { name: "Show what it will do" }).click();
      await page.getByRole("heading", { name: /which is meant|As the public/ }).waitFor();
      await expectSound(page, colorScheme);
      if (process.env.SHOTS !== undefined)
        await page.screenshot({ path: `${process.env.SHOTS}/correct-${colorScheme}.png`, fullPage: true });
      await other.close();
    },
  );
});
