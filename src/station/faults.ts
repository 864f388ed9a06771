import { existsSync, readFileSync } from "node:fs";
import { SourceMap } from "node:module";
import { basename, isAbsolute, join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Finding } from "../model/finding.ts";
import { NoSuchField } from "./archive.ts";

interface Fault {
  readonly says: string;
  readonly mend: string;
  readonly line?: number;
  readonly column?: number;
}

/** A finding about a file of the station's folder. */
export function stationFinding(folder: string, file: string, { says, mend, line = 1, column = 1 }: Fault): Finding {
  return {
    rule: "station-template",
    level: "blocks",
    at: { file: join(folder, file), line, column },
    seconds: null,
    says,
    mend,
  };
}

const PARTS: Readonly<Record<string, string>> = {
  player: "the player, with what it steps over and the captions",
  corrections: "its corrections",
  words: "the words with their addresses and the notes of corrections",
  policy: "the policy that keeps strange scripts out",
  robots: "that it is not for search engines",
};

/** A page that lost parts on its way through a station's templates. @param template the file that is around it. */
export function lostFinding(folder: string, template: string, path: string, lost: readonly string[]): Finding {
  const [first = ""] = lost;
  return stationFinding(folder, template, {
    says: `The page ${path} would be without ${lost.map((part) => PARTS[part] ?? part).join(" and ")}, which its readers need.`,
    mend: ["policy", "robots"].includes(first)
      ? 'Keep `{% afterair "head" %}` in the head.'
      : `Put \`{% afterair "${first}" %}\` or \`{{ content }}\` where it belongs, and let no filter take it away.`,
  });
}

/** Something of the station's at an address of ours. @param path of the file in the site. */
export const claimFinding = (folder: string, file: string, path: string): Finding =>
  stationFinding(folder, file, {
    says: `This would be published at /${path.replace(/index\.html$/, "")}, which belongs to a page that every site has.`,
    mend: "Give it another address, by `permalink` or by the name of the file.",
  });

/** What an error said on its way up, the outermost first. */
function messagesOf(error: unknown): readonly { readonly error: unknown; readonly message: string }[] {
  const list: { error: unknown; message: string }[] = [];
  for (let at: unknown = error; at !== undefined && at !== null && list.length < 20; ) {
    const message = at instanceof Error ? at.message : String(at);
    list.push({ error: at, message });
    const { originalError, cause } = at as { originalError?: unknown; cause?: unknown };
    at = originalError ?? cause;
  }
  return list;
}

interface Spot {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
}

/** Where engines say that they were: `(./a.njk) [Line 3, Column 5]`, `file:./a.liquid, line:3, col:5`, a frame of a stack. */
function spotIn(text: string, folder: string): Spot {
  const [, file, line, column] =
    /\(([^()\s]+)\)\s*\[Line (\d+), Column (\d+)\]/.exec(text) ??
    /file:([^,\s]+), line:(\d+), col:(\d+)/.exec(text) ??
    stackSpot(text, folder) ??
    compiledSpot(text, folder) ??
    [];
  if (line !== undefined)
    return { ...(file === undefined ? {} : { file }), line: Number(line), column: Number(column ?? 1) };
  const [, only, col] =
    /[Ll]ine:? (\d+)(?:, [Cc]ol(?:umn)?:? (\d+))?/.exec(text) ?? /, line:(\d+)(?:, col:(\d+))?/.exec(text) ?? [];
  return only === undefined ? {} : { line: Number(only), ...(col === undefined ? {} : { column: Number(col) }) };
}

function stackSpot(text: string, folder: string): RegExpExecArray | null {
  const escaped = folder.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`(${escaped}/[^:()\\n]+):(\\d+):(\\d+)`).exec(text);
}

/** The same in what was compiled from the folder: each such file ends with the map of where its code comes from. */
function compiledSpot(text: string, folder: string): readonly string[] | null {
  for (const [, named = "", line, column] of text.matchAll(/((?:file:\/\/)?\/[^\s()]+\.mjs):(\d+):(\d+)/g)) {
    const path = named.startsWith("file:") ? fileURLToPath(named) : named;
    const map = existsSync(path) ? MAP.exec(readFileSync(path, "utf8"))?.[1] : undefined;
    if (map === undefined) continue;
    const from = new SourceMap(JSON.parse(Buffer.from(map, "base64").toString("utf8")));
    const entry = from.findEntry(Number(line) - 1, Number(column) - 1);
    if (!("originalSource" in entry)) continue;
    const file = fileURLToPath(new URL(entry.originalSource, pathToFileURL(path)));
    if (relative(folder, file).startsWith("..") || file.includes("node_modules")) continue;
    return [text, file, `${entry.originalLine + 1}`, `${entry.originalColumn + 1}`];
  }
  return null;
}
const MAP = /\n\/\/# sourceMappingURL=data:application\/json;base64,(\S+)\s*$/;

/** The file of the folder that a text speaks of. */
function fileIn(text: string, folder: string): string | undefined {
  const [, full] = new RegExp(`(${folder.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}/[^\\s:"'\`()]+)`).exec(text) ?? [];
  const named = full ?? /(?:^|[\s"'`(])(\.\/[^\s"'`(),]+\.[a-z0-9.]+)/.exec(text)?.[1];
  return named?.replace(/\.$/, "");
}

/** Anything that a station's template or configuration threw, as a finding. @param fallback the file that was at work. */
export function templateFault(error: unknown, folder: string, fallback: string): Finding {
  const esbuild = esbuildFault(error);
  if (esbuild !== null) return stationFinding(folder, inFolder(esbuild.file ?? fallback, folder), esbuild);
  const chain = messagesOf(error);
  const texts = chain.map(({ message, error: own }) => `${message}\n${own instanceof Error ? (own.stack ?? "") : ""}`);
  const claimed = claimIn(texts, folder);
  if (claimed !== null) return claimed;
  const spots = texts.map((text) => spotIn(text, folder));
  const isPlaced = ({ file, line }: Spot) => line !== undefined && file !== undefined;
  const spot = spots.findLast(isPlaced) ?? spots.findLast(({ line }) => line !== undefined) ?? {};
  const named = texts
    .map((text) => fileIn(text, folder))
    .findLast((file) => file !== undefined && !file.includes(OURS));
  const file = inFolder(spot.file ?? named ?? fallback, folder);
  const field = chain.map(({ error: own }) => own).find((own) => own instanceof NoSuchField);
  const says = field?.message ?? sentence(chain.at(-1)?.message ?? String(error), folder);
  return stationFinding(folder, file, {
    says,
    mend: field?.mend ?? mendFor(says),
    ...placeIn(join(folder, file), spot, says),
  });
}

/** Two templates with one permalink, of which one is ours: the other is at fault. */
function claimIn(texts: readonly string[], folder: string): Finding | null {
  for (const text of texts) {
    const [, output = "", list = ""] = /Output conflict[^`]*`([^`]*)`[\s\S]*?((?:\n\s*\d+\. .*)+)/.exec(text) ?? [];
    const files = [...list.matchAll(/\d+\. (\S+)/g)].map(([, file = ""]) => file);
    const theirs = files.find((file) => !file.includes(OURS));
    if (theirs !== undefined && files.some((file) => file.includes(OURS)))
      return claimFinding(folder, theirs, output.replace(/^.*\/station-out\//, ""));
  }
  return null;
}

/** Pages of ours in a run: a fault is never theirs. */
const OURS = "afterair-pages";

/**
 * Where in a file something is, as an editor counts. Engines count from the end of the front matter, and some don't know: then
 * it is where the name stands that the fault is about.
 */
function placeIn(path: string, spot: Spot, says: string): Spot {
  if (path.endsWith(".json") && existsSync(path)) return placeInJson(readFileSync(path, "utf8"), says);
  if (!existsSync(path) || !/\.(?:njk|liquid|md|html)$/.test(path)) return spot;
  const text = readFileSync(path, "utf8");
  const matter = /^---[^\n]*\n[\s\S]*?\n---[^\n]*\n/.exec(text)?.[0].split("\n").length ?? 1;
  const [, name = ""] =
    /no (?:part )?`([^`]+)`/.exec(says) ?? /(?:not found|undefined filter): ([^\s.]+)/.exec(says) ?? [];
  const lines = text.split("\n");
  const line = spot.line === undefined ? matter : spot.line + matter - 1;
  const at = name === "" ? -1 : lines.findIndex((one, index) => index + 1 >= line && one.includes(name));
  const found = at >= 0 ? at : name === "" ? -1 : lines.findIndex((one) => one.includes(name));
  return found < 0
    ? { ...spot, ...(spot.line === undefined ? {} : { line }) }
    : { line: found + 1, column: (lines[found] ?? "").indexOf(name) + 1 };
}

/** Where JSON is broken, as far as Node says it. */
function placeInJson(text: string, says: string): Spot {
  const position = /at position (\d+)/.exec(says)?.[1] ?? (/end of JSON/.test(says) ? text.trimEnd().length : 0);
  const before = text.slice(0, Number(position)).split("\n");
  return { line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
}

function esbuildFault(error: unknown): (Fault & { readonly file?: string }) | null {
  const { errors } = (error ?? {}) as {
    errors?: readonly { text: string; location: { file: string; line: number; column: number } | null }[];
  };
  const first = Array.isArray(errors) ? errors[0] : undefined;
  if (first === undefined || typeof first.text !== "string") return null;
  const { text, location } = first;
  const says = sentence(text, "");
  return {
    says,
    mend: mendFor(says),
    ...(location === null ? {} : { file: location.file, line: location.line, column: location.column + 1 }),
  };
}

function inFolder(file: string, folder: string): string {
  const path = isAbsolute(file) ? relative(folder, file) : file;
  return path.startsWith("..") ? basename(path) : path;
}

/** The last line that says something: engines put the place and their own names before it. */
function sentence(message: string, folder: string): string {
  const [, two] = /Output conflict[\s\S]*?((?:\n\s*\d+\. .*)+)/.exec(message) ?? [];
  if (two !== undefined)
    return `Two templates have the same permalink: ${[...two.matchAll(/\d+\. (\S+)/g)].map(([, file]) => file).join(" and ")}.`;
  const lines = message
    .replace(/, "[\s\S]*" is not valid JSON$/, " is not valid JSON")
    .split("\n")
    .map((line) =>
      line
        .replace(/^\s*(?:Template render error|Error|TypeError|ReferenceError|RenderError|ParseError):\s*/, "")
        .trim(),
    )
    .filter(
      (line) =>
        line !== "" &&
        !/^\(.*\)(?:\s*\[Line.*\])?$/.test(line) &&
        !/^at /.test(line) &&
        !/^(?:>>|\s*)?\s*\d+\|/.test(line),
    );
  const said = (lines[0] ?? "It failed without a word.")
    .replaceAll(`${folder}/`, "")
    .replace(/, file:\S+ line:\d+.*$/, "");
  return /[.!?]$/.test(said) ? said : `${said}.`;
}

const MENDS: readonly (readonly [RegExp, string])[] = [
  [
    /Could not resolve|Cannot find (?:package|module)/,
    "Install it where the folder is (`npm install` and its name), or take its line out of the configuration.",
  ],
  [/filter not found|undefined filter/i, "Add the filter in eleventy.config, or correct its name."],
  [/template not found|ENOENT/i, "Put the file into `_includes`, or correct its name."],
  [/not in the site output directory/, "Correct where `addPassthroughCopy` in the configuration copies it to."],
  [/same permalink/, "Give one of them another."],
  [/can't be changed/, "Make a copy of the list first."],
];

const mendFor = (says: string): string =>
  MENDS.find(([kind]) => kind.test(says))?.[1] ?? "Correct the file, and build again: the site is as it was.";
