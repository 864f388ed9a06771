/** What the tests use of the `webvtt-parser` package, which has no types of its own. */
declare module "webvtt-parser" {
  export interface OracleNode {
    readonly type: "text" | "object" | "timestamp";
    readonly name?: string;
    readonly classes?: readonly string[];
    readonly value?: string | number;
    readonly children?: readonly OracleNode[];
  }

  export interface OracleCue {
    readonly id: string;
    readonly startTime: number;
    readonly endTime: number;
    readonly text: string;
    readonly direction: string;
    readonly snapToLines: boolean;
    readonly linePosition: number | "auto";
    readonly lineAlign: string;
    readonly textPosition: number | "auto";
    readonly positionAlign: string;
    readonly size: number;
    readonly alignment: string;
    readonly tree: { readonly children: readonly OracleNode[] };
  }

  export interface OracleParser {
    parse(text: string, mode: string): { readonly cues: readonly OracleCue[]; readonly styles: readonly string[] };
  }

  const webvtt: { readonly WebVTTParser: new (entities?: Readonly<Record<string, string>>) => OracleParser };
  export default webvtt;
}
