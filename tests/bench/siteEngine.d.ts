/** The little of the site engine that is measured against; the package brings no types of its own. */
declare module "@11ty/eleventy" {
  interface EleventyConfig {
    setUseGitIgnore(use: boolean): void;
    addGlobalData(name: string, data: unknown): void;
  }
  export default class Eleventy {
    constructor(
      input: string,
      output: string,
      options: { readonly quietMode: boolean; readonly config: (config: EleventyConfig) => void },
    );
    /** Failures are thrown all the same. */
    disableLogger(): void;
    write(): Promise<void>;
  }
}
