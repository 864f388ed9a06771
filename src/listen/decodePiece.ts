/** Decoded samples, -1 to 1, each channel apart and all of one length. `rate`: samples a second. */
export interface Piece {
  readonly rate: number;
  readonly channels: readonly Float32Array[];
}

/** Turns the bytes of a file into samples, as they come. What can't be read at all is thrown, as a sentence's end. */
export interface Decoder {
  take(bytes: Uint8Array): Promise<Piece | null>;
  /** What was still held back when the file ended. */
  end(): Promise<Piece | null>;
  free(): void;
}
