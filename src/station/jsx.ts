import { randomUUID } from "node:crypto";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type ComponentChild, isValidElement } from "preact";
import { renderToString } from "preact-render-to-string";
import { compileModule } from "./compile.ts";

/** A template in TypeScript or JSX: what it exports. */
interface Module {
  readonly default?: (this: unknown, data: object) => unknown;
  readonly data?: unknown;
  readonly render?: (this: unknown, data: object) => unknown;
}

/**
 * How Eleventy reads `.11ty.tsx`, `.11ty.ts` and `.11ty.jsx`: compiled, elements set by Preact. `this` has its filters and shortcodes.
 * @param folder the station's. @param kept where what is compiled is kept.
 */
export function jsxExtension(folder: string, kept: string, engine: string): object {
  const load = async (inputPath: string): Promise<Module> => {
    // Under a name of its own: several processes may do the same at the same time.
    const out = join(kept, `${randomUUID()}.mjs`);
    await compileModule(join(folder, inputPath), out, engine);
    return (await import(pathToFileURL(out).href)) as Module;
  };
  const known = new Map<string, Promise<Module>>();
  const loadOnce = (inputPath: string): Promise<Module> => {
    const loading = known.get(inputPath) ?? load(inputPath);
    known.set(inputPath, loading);
    return loading;
  };
  return {
    outputFileExtension: "html",
    read: false,
    compileOptions: { cache: true, permalink: "raw", getCacheKey: (_: string, path: string) => path },
    getInstanceFromInputPath: loadOnce,
    getData: ["data"],
    async compile(this: { config: { javascriptFunctions: object } }, _: string, inputPath: string) {
      const module = await loadOnce(inputPath);
      const functions = this.config.javascriptFunctions;
      const render = module.default ?? module.render;
      if (typeof render !== "function") throw new Error(`${inputPath} has no default export that gives its content.`);
      return async (data: object & { page?: unknown }) =>
        textOf(await render.call({ ...functions, page: data.page }, data));
    },
  };
}

const textOf = (content: unknown): string =>
  isValidElement(content) || Array.isArray(content)
    ? renderToString(content as never as Parameters<typeof renderToString>[0])
    : String((content as ComponentChild) ?? "");
