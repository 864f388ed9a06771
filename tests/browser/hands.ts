import type { Page } from "playwright-core";

/** Somebody with a keyboard and nothing else. Every press is counted: a letter is one, and so is a key with Ctrl. */
export interface Hands {
  readonly presses: number;
  press(key: string, times?: number): Promise<void>;
  type(text: string): Promise<void>;
  /**
   * Goes on with Tab, or back with Shift+Tab, to what is called so; of several the first that comes.
   * @param called its whole name, or what its name matches. @param role `button`, `a`, `input`; left out: any.
   */
  tabTo(called: string | RegExp, role?: string, by?: "Tab" | "Shift+Tab"): Promise<void>;
}

/** More than any page of the desk has places to stop at. */
const STOPS = 400;

export function handsOn(page: Page): Hands {
  let presses = 0;
  const press = async (key: string, times = 1): Promise<void> => {
    for (let n = 0; n < times; n++) {
      presses++;
      await page.keyboard.press(key);
    }
  };
  return {
    get presses() {
      return presses;
    },
    press,
    async type(text) {
      presses += text.length;
      await page.keyboard.type(text);
    },
    async tabTo(called, role = "", by = "Tab") {
      const met: string[] = [];
      for (let n = 0; n < STOPS; n++) {
        await press(by);
        const [name, own] = await nameOfFocused(page);
        if ((role === "" || role === own) && (typeof called === "string" ? name === called : called.test(name))) return;
        met.push(name);
      }
      throw new Error(`No key leads to ${called}: ${[...new Set(met)].join(" | ")}`);
    },
  };
}

/** What a screen reader would call what has the focus, nearly, and its element. */
const nameOfFocused = (page: Page): Promise<readonly [name: string, role: string]> =>
  page.evaluate(() => {
    const own = document.activeElement;
    const labels = own instanceof HTMLInputElement || own instanceof HTMLSelectElement ? [...(own.labels ?? [])] : [];
    const [label] = labels.map((one) => one.querySelector("span")?.textContent ?? one.textContent ?? "");
    const name = own?.getAttribute("aria-label") ?? label ?? own?.textContent ?? "";
    return [name.replace(/\s+/g, " ").trim(), own?.tagName.toLowerCase() ?? ""] as const;
  });
