/** The package `fft.js` has no types of its own: what is used of it. */
declare module "fft.js" {
  export default class FFT {
    /** @param size a power of two. */
    constructor(size: number);
    /** Of `size` real values: puts real and imaginary parts by turns into `out`, those of the first half of the spectrum. */
    realTransform(out: Float64Array, data: Float64Array): void;
  }
}
