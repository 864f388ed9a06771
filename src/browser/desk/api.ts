import type { DeskProgress } from "../../model/desk.ts";

/** What the server refused, as sentences for people. */
export class Refused extends Error {}

const place = (): HTMLMetaElement | null => document.querySelector("meta[name=desk-token]");

/** Takes the token of a server that was started anew, as this server gives it to its own pages alone. @returns whether there is one. */
async function isRenewed(): Promise<boolean> {
  const page = await fetch("/").then(
    (response) => response.text(),
    () => "",
  );
  const meta = new DOMParser()
    .parseFromString(page, "text/html")
    .querySelector<HTMLMetaElement>("meta[name=desk-token]");
  const own = place();
  if (meta === null || own === null || meta.content === own.content) return false;
  own.content = meta.content;
  return true;
}

/** The server can't be reached: nothing was changed, and what is typed is still on the page. */
const AWAY = "The desk's server does not answer. What you typed is still here, and is sent again when it is back.";

async function ask(path: string, init: RequestInit = {}): Promise<Response> {
  const headers = { ...init.headers, "x-desk-token": place()?.content ?? "" };
  const response = await fetch(path, { ...init, headers }).catch(() => null);
  if (response === null) throw new Unreachable(AWAY);
  if (response.status === 403 && (await isRenewed())) return ask(path, init);
  if (!response.ok) {
    const body = (await response.json().catch(() => null)) as { readonly says?: string } | null;
    throw new Refused(body?.says ?? `The server failed (${response.status}).`);
  }
  return response;
}

export class Unreachable extends Error {}

export async function read<T>(path: string): Promise<T> {
  return (await (await ask(path)).json()) as T;
}

export async function bytesOf(path: string): Promise<Uint8Array> {
  return new Uint8Array(await (await ask(path)).arrayBuffer());
}

export async function write<T>(path: string, body: unknown): Promise<T> {
  const text = JSON.stringify(body);
  // Sent to the end although the page is left; browsers do that for 64 KiB (Fetch standard, keepalive).
  return (await (await ask(path, { method: "POST", body: text, keepalive: text.length < MOST_KEPT })).json()) as T;
}

/** In letters, of which each may be three bytes. */
const MOST_KEPT = 20_000;

/** Sends a file. @returns the name by which it is asked for. */
export async function sendFile(file: File): Promise<string> {
  const response = await ask(`/api/incoming/${encodeURIComponent(file.name)}`, { method: "POST", body: file });
  return ((await response.json()) as { readonly file: string }).file;
}

/** Work that takes a while. @param tell is told what is being done. @returns how it ended. */
export async function work(path: string, body: unknown, tell: (says: string) => void): Promise<DeskProgress> {
  const response = await ask(path, { method: "POST", body: JSON.stringify(body) });
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  let [rest, last]: [string, DeskProgress] = ["", { is: "failed", says: AWAY }];
  for (;;) {
    const piece = await reader?.read().catch(() => null);
    if (piece === null || piece === undefined || piece.done) return last;
    const lines = (rest + piece.value).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines) {
      last = JSON.parse(line) as DeskProgress;
      if (last.is === "doing") tell(last.says);
    }
  }
}

export const saysOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
