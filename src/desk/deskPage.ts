import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { contentPolicy } from "../model/policy.ts";

/** What the desk's page is made of, ready to be sent. */
export interface DeskPage {
  readonly script: Uint8Array;
  readonly style: string;
  readonly mark: string;
}

/** The site's own look first: the desk is in the same identity. */
const STYLES = ["00-faces", "10-reset", "12-tokens", "20-base", "95-hidden"];
const TEMPLATES = new URL("../../templates/", import.meta.url);

/** Bundles `src/browser/desk`, and joins its style sheet with those of the site. */
export async function makeDeskPage(): Promise<DeskPage> {
  const mark = await readFile(new URL("pictures/mark.svg", TEMPLATES), "utf8");
  const parts = [...STYLES.map((name) => `style/${name}.css`), "desk/desk.css"];
  const [script, ...sheets] = await Promise.all([
    bundled(),
    ...parts.map((path) => readFile(new URL(path, TEMPLATES), "utf8")),
  ]);
  return { script, style: sheets.join("\n"), mark };
}

/** Where the fonts of the style sheet lie. */
export const FONTS = fileURLToPath(new URL("fonts/", TEMPLATES));

async function bundled(): Promise<Uint8Array> {
  const { outputFiles } = await build({
    absWorkingDir: fileURLToPath(new URL("../browser/desk/", import.meta.url)),
    entryPoints: ["entry.tsx"],
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    charset: "utf8",
    jsx: "automatic",
    jsxImportSource: "preact",
    write: false,
    logLevel: "silent",
  });
  const [script] = outputFiles;
  if (script === undefined) throw new Error("esbuild gave no file for the desk");
  return script.contents;
}

/**
 * The one document of the desk: its script makes all the rest. @param token what every write must carry: only a page that
 * this server sent knows it.
 */
export const deskDocument = (token: string): string =>
  `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="desk-token" content="${token}">
<title>The desk</title>
<link rel="icon" href="/mark.svg" type="image/svg+xml">
<link rel="stylesheet" href="/desk.css">
<script type="module" src="/desk.js"></script>
</head>
<body><noscript><p>The desk needs JavaScript. The same work can be done with the commands: <code>afterair --help</code>.</p></noscript></body>
</html>
`;

export const deskHeaders = (mediaHosts: readonly string[]): Readonly<Record<string, string>> => ({
  "Content-Security-Policy": `${contentPolicy(mediaHosts)}; frame-ancestors 'none'`,
  "Referrer-Policy": "no-referrer",
  "Cache-Control": "no-store",
});
