import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";

const NAMES = ["chromium", "chromium-browser", "google-chrome"];

/** The browser to test with: that of the environment, else the first found on the path; null where there is none. */
export const BROWSER: string | null = findBrowser();
/** For titles of suites: why nothing ran. */
export const UNLESS_BROWSER = BROWSER === null ? " (skipped: no browser found)" : "";

function findBrowser(): string | null {
  const named = process.env.CHROMIUM;
  if (named !== undefined && named !== "") return named;
  const folders = [...(process.env.PATH ?? "").split(delimiter), "/usr/bin"].filter((folder) => folder !== "");
  return folders.flatMap((folder) => NAMES.map((name) => join(folder, name))).find(isExecutable) ?? null;
}

function isExecutable(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * What the browser does without. The lists that drop from its address bar are pages of their own in every window, and no
 * test sees them: they took half the time of a visit. The rest is what its driver turns off, for of two such lists the
 * last one counts.
 */
const OFF = [
  "WebUIOmniboxPopup",
  "WebUIOmniboxAimPopup",
  "WebUIOmniboxFullPopup",
  "AimEnabled",
  "AvoidCorsURLLoaderRestartOnRedirect",
  "AvoidUnnecessaryBeforeUnloadCheckSync",
  "DestroyProfileOnBrowserClose",
  "HttpsFirstBalancedModeAutoEnable",
  "HttpsUpgrades",
  "LensOverlay",
  "MediaRouter",
  "NetworkTimeServiceQuerying",
  "OptimizationHints",
  "PaintHolding",
  "PreconnectToSearch",
  "ThirdPartyStoragePartitioning",
];

export function launch(): Promise<Browser> {
  if (BROWSER === null) throw new Error("No browser was found. Install chromium, or name one in CHROMIUM.");
  return chromium.launch({
    executablePath: BROWSER,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--mute-audio",
      "--autoplay-policy=no-user-gesture-required",
      `--disable-features=${OFF.join(",")}`,
    ],
  });
}

/** A page, and what went wrong or went out while it was open. */
export interface Visit {
  readonly page: Page;
  /** Addresses asked for. */
  readonly requests: string[];
  /** Errors and warnings of the console, uncaught errors, refusals by the policy, answers of 400 and over. */
  readonly problems: string[];
  close(): Promise<void>;
}

export async function visit(browser: Browser, options: BrowserContextOptions = {}): Promise<Visit> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const page = await context.newPage();
  const [requests, problems]: [string[], string[]] = [[], []];
  page.on("request", (request) => requests.push(request.url()));
  page.on("response", (response) => {
    if (response.status() >= 400) problems.push(`${response.status()} ${response.url()}`);
  });
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) problems.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => problems.push(`uncaught: ${error.message}`));
  return { page, requests, problems, close: () => context.close() };
}

/** Goes to an address and waits until all that the page asks for by itself has come: fonts, captions, results of a search. */
export async function goTo(page: Page, address: string): Promise<void> {
  await page.goto(address, { waitUntil: "load" });
  await page.waitForFunction(() => {
    const track = document.querySelector("track");
    // A player that waits for the script has nothing to caption without it.
    const waits = track?.closest("video")?.hidden !== false;
    const captions =
      track === null || waits || track.track.mode === "disabled" || track.readyState >= HTMLTrackElement.LOADED;
    const searching = document.querySelector(".results[aria-busy=true]") !== null;
    return document.fonts.status === "loaded" && captions && !searching;
  });
}
