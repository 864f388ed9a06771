/** Of Eleventy 3, which brings no types: what is used here. */
declare module "@11ty/eleventy" {
  export type Transform = (this: object, content: string, outputPath: string) => string | Promise<string>;
  export interface UserConfig {
    addShortcode(name: string, run: (this: unknown, ...args: readonly string[]) => string): void;
    addExtension(endings: readonly string[], options: object): void;
    addTemplateFormats(endings: readonly string[]): void;
    addDateParsing(
      parse: (this: { readonly page?: { readonly inputPath?: string } }, value: unknown) => Date | undefined,
    ): void;
    addGlobalData(name: string, value: unknown): void;
    addPreprocessor(
      name: string,
      endings: string,
      run: (this: { inputPath: string }, data: Record<string, unknown>) => void,
    ): void;
    addPlugin(plugin: unknown, options?: object): void;
    addTemplate(path: string, content: unknown, data?: object): void;
    addTransform(name: string, run: Transform): void;
    amendLibrary(engine: string, amend: (library: never) => void): void;
    setConcurrency(count: number): void;
    setQuietMode(isQuiet: boolean): void;
    setUseGitIgnore(use: boolean): void;
    on(event: string, hear: (value: never) => void): void;
    readonly ignores: Set<string>;
  }
  export interface TemplateConfig {
    getConfig(): {
      readonly transforms: Readonly<Record<string, Transform>>;
      readonly benchmarkManager: {
        get(name: "Aggregate"): { get(label: string): unknown };
        setVerboseOutput(isVerbose: boolean): void;
        getAll(): Readonly<Record<string, { setIsVerbose(isVerbose: boolean): void }>>;
      };
    };
  }
  /** Where each copied file or folder went. */
  export interface Copied {
    readonly map?: Readonly<Record<string, string>>;
  }
  export interface Written {
    readonly inputPath: string;
    readonly outputPath: string | false;
    readonly url: string | false;
    readonly content: string;
  }
  export default class Eleventy {
    constructor(
      input: string,
      output: string,
      options: {
        readonly configPath?: string;
        readonly quietMode: boolean;
        readonly pathPrefix?: string;
        readonly config: (config: UserConfig) => void;
      },
    );
    readonly templateData: { getGlobalData(): Promise<Record<string, unknown>> };
    readonly directories: { readonly input: string; readonly includes: string };
    disableLogger(): void;
    init(): Promise<void>;
    write(): Promise<readonly [copied: readonly Copied[], written: readonly Written[]]>;
  }
  export const HtmlBasePlugin: unknown;
  export const RenderPlugin: {
    File(
      path: string,
      options: { readonly templateConfig: TemplateConfig; readonly extensionMap: unknown; readonly strictMode: true },
    ): Promise<(data: object) => Promise<string>>;
  };
}
