import type { Page } from "playwright-core";

/** Opens a page of the demo, and waits for its recording. */
export async function openPlayer(page: Page, address: string): Promise<Page> {
  await page.goto(address);
  await page.waitForFunction(() => (document.querySelector("video")?.readyState ?? 0) >= 1);
  return page;
}

/** Seeks as a reader does, past the script of the page. To: in seconds. */
export async function seek(page: Page, to: number): Promise<void> {
  await page.evaluate((at) => {
    const video = document.querySelector("video");
    if (video !== null) video.currentTime = at;
  }, to);
}
/** The recording stands at a moment, within what a browser rounds. */
export async function expectMoment(page: Page, moment: number): Promise<void> {
  await page.waitForFunction(
    (at) => Math.abs((document.querySelector("video")?.currentTime ?? -1) - at) < 0.01,
    moment,
  );
}
/** The words that the page says are being said. */
export const currentWords = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const copy = document.querySelector(".cue[aria-current]")?.cloneNode(true) as Element | undefined;
    for (const extra of copy?.querySelectorAll(".mark-ref, .vh") ?? []) extra.remove();
    return (copy?.textContent ?? "").replace(/\s+/g, " ").trim();
  });
