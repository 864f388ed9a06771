/**
 * What pages of the site may load (Content Security Policy Level 3): their own files, the recordings of the configured
 * hosts, and nothing of anybody else's. `'wasm-unsafe-eval'` is for the search index alone.
 * @param mediaHosts origins such as `https://media.example.org`.
 */
export function contentPolicy(mediaHosts: readonly string[]): string {
  return [
    "default-src 'none'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "style-src 'self'",
    "img-src 'self'",
    "font-src 'self'",
    "connect-src 'self'",
    ["media-src 'self'", ...mediaHosts].join(" "),
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
  ].join("; ");
}

/** The headers that a server should send with every answer. A page can't say of itself who may frame it. */
export function siteHeaders(mediaHosts: readonly string[]): Readonly<Record<string, string>> {
  return {
    "Content-Security-Policy": `${contentPolicy(mediaHosts)}; frame-ancestors 'none'`,
    "Referrer-Policy": "strict-origin-when-cross-origin",
    "X-Content-Type-Options": "nosniff",
  };
}
