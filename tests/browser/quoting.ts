import type { Browser, Page } from "playwright-core";

/** Selects on a page what stands between two texts, both included, as a reader does. `paragraph`: ids; left out: the first that has the text. */
export async function select(page: Page, from: string, to: string = from): Promise<void> {
  await page.evaluate(
    ([first, last]) => {
      const find = (wanted: string): [Text, number] => {
        for (const words of document.querySelectorAll(".words")) {
          const walker = document.createTreeWalker(words, NodeFilter.SHOW_TEXT);
          for (let node = walker.nextNode() as Text | null; node !== null; node = walker.nextNode() as Text | null)
            if (node.data.includes(wanted)) return [node, node.data.indexOf(wanted)];
        }
        throw new Error(`No words: ${wanted}`);
      };
      const [[a, start], [b, end]] = [find(first ?? ""), find(last ?? "")];
      getSelection()?.setBaseAndExtent(a, start, b, end + (last ?? "").length);
    },
    [from, to],
  );
}

/** What a copy puts on the clipboard. */
export const clipboard = (page: Page): Promise<string> => page.evaluate(() => navigator.clipboard.readText());

const MARKED = [255, 0, 255] as const;

/**
 * The words of the page that the browser marks because the address names them. They are told by their colour alone, which no
 * script can ask for: each character's box is looked up in a picture of the page.
 */
export async function markedWords(browser: Browser, address: string): Promise<string> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, bypassCSP: true });
  try {
    const page = await context.newPage();
    await page.route("**/assets/style-*.css", async (route) => {
      const answer = await route.fetch();
      const body = `${await answer.text()}\n::target-text { background: rgb(${MARKED.join()}) !important; color: rgb(${MARKED.join()}) !important }`;
      await route.fulfill({ response: answer, body });
    });
    await page.goto(address, { waitUntil: "load" });
    await page.waitForFunction(() => document.fonts.status === "loaded");
    await page.waitForTimeout(500);
    const picture = (await page.screenshot({ fullPage: true, animations: "disabled" })).toString("base64");
    return await page.evaluate(
      async ([shot, red, green, blue]) => {
        const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${shot}`)).blob());
        const canvas = new OffscreenCanvas(image.width, image.height).getContext("2d");
        if (canvas === null) return "";
        canvas.drawImage(image, 0, 0);
        const { data } = canvas.getImageData(0, 0, image.width, image.height);
        const isMarked = ({ left, top, width, height }: DOMRect): boolean => {
          const [x, y] = [Math.round(left + scrollX + width / 2), Math.round(top + scrollY + height / 2)];
          const at = 4 * (y * image.width + x);
          return data[at] === red && data[at + 1] === green && data[at + 2] === blue;
        };
        const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        let marked = "";
        for (let node = walker.nextNode() as Text | null; node !== null; node = walker.nextNode() as Text | null) {
          for (const { 0: word, index } of node.data.matchAll(/[\p{L}\p{N}]+/gu)) {
            const range = document.createRange();
            range.setStart(node, index);
            range.setEnd(node, index + word.length);
            const box = range.getBoundingClientRect();
            if (box.width > 1 && isMarked(box)) marked += `${word} `;
          }
        }
        return marked.trim();
      },
      [picture, ...MARKED] as const,
    );
  } finally {
    await context.close();
  }
}

/** The words of a text, as `markedWords` gives them. */
export const plainWords = (text: string): string => (text.match(/[\p{L}\p{N}]+/gu) ?? []).join(" ");
