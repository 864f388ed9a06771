/**
 * An acoustic model in the files of CMU Sphinx, as Debian's package `pocketsphinx-en-us` installs them: 42 phones, each
 * with a codebook of Gaussians, and states that weigh those ("phonetically tied mixture"). The formats are described at
 * the head of the files themselves (`mdef`, `sendump`) and in the manual of SphinxTrain ("S3 file formats").
 */
export interface AcousticModel {
  readonly phones: ReadonlyMap<string, number>;
  /** The phone of silence. */
  readonly silence: number;
  /** Phones that stand for what is no word: noise, mumbling. */
  readonly fillers: readonly number[];
  /** The three states of a phone between others; `at`: where in its word it stands. */
  statesOf(phone: number, left: number, right: number, at: WordPlace): readonly number[];
  /** The phone, and so the codebook, of each state. */
  readonly phoneOf: Uint8Array;
  /** Staying and going on, by phone and state: natural logarithms, `[phone * 6 + state * 2]` and the one after it. */
  readonly moves: Float64Array;
  /** Streams of features, Gaussians in a codebook, and values in a stream. */
  readonly streams: number;
  readonly densities: number;
  readonly width: number;
  /** By phone, stream, density and value. */
  readonly means: Float32Array;
  /** Half the inverse of each variance, in the order of the means. */
  readonly halves: Float32Array;
  /** By phone, stream and density: the logarithm of the Gaussian's height. */
  readonly heights: Float32Array;
  /** By stream, density and state: minus the logarithm of the weight, in `WEIGHT_STEP`s. */
  readonly weights: Uint8Array;
  readonly states: number;
}

/** Where a phone stands in its word, by the numbers of the file. */
export const PLACE = { inside: 0, first: 1, last: 2, alone: 3 } as const;
export type WordPlace = (typeof PLACE)[keyof typeof PLACE];

/** A byte of a weight: 1024 steps of the logarithm to base 1.0001 (pocketsphinx, `SENSCR_SHIFT`). */
export const WEIGHT_STEP = 1024 * Math.log(1.0001);
/** No variance is taken to be less (pocketsphinx, `-varfloor`). */
const VARIANCE_FLOOR = 1e-4;
/** States of a phone. */
export const STATES = 3;

/** Where Debian's package puts the model. */
export const MODEL_FOLDER = "/usr/share/pocketsphinx/model/en-us/en-us";

export interface ModelFiles {
  readonly mdef: Uint8Array;
  readonly means: Uint8Array;
  readonly variances: Uint8Array;
  readonly transitions: Uint8Array;
  readonly sendump: Uint8Array;
}

/** What each file is called in the model's folder. */
export const MODEL_FILES: Readonly<Record<keyof ModelFiles, string>> = {
  mdef: "mdef",
  means: "means",
  variances: "variances",
  transitions: "transition_matrices",
  sendump: "sendump",
};

/** @throws with a sentence's end where the files are of another kind of model, or damaged. */
export function parseModel(files: ModelFiles): AcousticModel {
  const definition = parseDefinition(files.mdef);
  const [means, variances] = [parseGaussians(files.means), parseGaussians(files.variances)];
  const { books, streams, densities, width } = means;
  if (books !== definition.phones.size || variances.values.length !== means.values.length)
    throw new Error("it has not one codebook for each phone: only such models can be read here");
  const floored = variances.values.map((own) => Math.max(own, VARIANCE_FLOOR));
  const heights = Float32Array.from({ length: books * streams * densities }, (_, n) => {
    const own = floored.subarray(n * width, (n + 1) * width);
    return -0.5 * own.reduce((sum, variance) => sum + Math.log(2 * Math.PI * variance), 0);
  });
  return {
    ...definition,
    moves: parseMoves(files.transitions),
    streams,
    densities,
    width,
    means: means.values,
    halves: floored.map((own) => 0.5 / own),
    heights,
    weights: parseWeights(files.sendump, streams * densities * definition.states),
  };
}

const latin = (bytes: Uint8Array): string => String.fromCharCode(...bytes);
const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

type Definition = Pick<AcousticModel, "phones" | "silence" | "fillers" | "statesOf" | "phoneOf" | "states">;

/** Phones, and the states of each between which others: the binary form of `mdef`, as its own head describes it. */
function parseDefinition(bytes: Uint8Array): Definition {
  const view = viewOf(bytes);
  if (latin(bytes.subarray(0, 4)) !== "BMDF") throw new Error("mdef is not in its binary form");
  let at = 12 + view.getInt32(8, true);
  const numbers = Array.from({ length: 10 }, (_, n) => view.getInt32(at + n * 4, true));
  const [count = 0, all = 0, emitting, , states = 0, , sequences = 0, , nodes = 0, silence = 0] = numbers;
  if (emitting !== STATES)
    throw new Error(`its phones have ${emitting} states: only such of ${STATES} can be read here`);
  at += 40;
  const phones = new Map<string, number>();
  for (let phone = 0; phone < count; phone++) {
    const end = bytes.indexOf(0, at);
    phones.set(latin(bytes.subarray(at, end)), phone);
    at = end + 1;
  }
  const first = Math.ceil(at / 4) * 4 + nodes * 8;
  const sequence = first + all * 12 + 4;
  if (bytes.length < sequence + sequences * STATES * 2) throw new Error("mdef is cut short");
  const stateAt = (own: number, n: number): number => view.getUint16(sequence + (own * STATES + n) * 2, true);
  const phoneOf = new Uint8Array(states);
  const contexts = new Map<number, number>();
  const fillers: number[] = [];
  for (let n = 0; n < all; n++) {
    const own = first + n * 12;
    const [states, place, phone, left, right] = [
      view.getInt32(own, true),
      bytes[own + 8] ?? 0,
      n < count ? n : (bytes[own + 9] ?? 0),
      bytes[own + 10] ?? 0,
      bytes[own + 11] ?? 0,
    ];
    if (n < count && place === 1) fillers.push(n);
    if (n >= count) contexts.set(contextKey(phone, left, right, place, count), states);
    for (let state = 0; state < STATES; state++) phoneOf[stateAt(states, state)] = phone;
  }
  const statesOf = (phone: number, left: number, right: number, place: WordPlace): readonly number[] => {
    const wanted = [place, ...OTHER_PLACES].map((own) => contexts.get(contextKey(phone, left, right, own, count)));
    // The first sequences are those of the phones by themselves.
    const own = wanted.find((one) => one !== undefined) ?? phone;
    return Array.from({ length: STATES }, (_, n) => stateAt(own, n));
  };
  return { phones, silence, fillers, statesOf, phoneOf, states };
}

/** Where a context was not met in training at one place of a word, its states at another are the nearest. */
const OTHER_PLACES: readonly WordPlace[] = [PLACE.inside, PLACE.last, PLACE.first, PLACE.alone];

const contextKey = (phone: number, left: number, right: number, place: number, count: number): number =>
  ((phone * count + left) * count + right) * 4 + place;

/** Where the numbers of a file in the S3 format begin: after its text, and a word that tells the order of bytes. */
function afterHeader(bytes: Uint8Array): number {
  const end = latin(bytes.subarray(0, 400)).indexOf("endhdr\n");
  if (!latin(bytes.subarray(0, 3)).startsWith("s3\n") || end === -1)
    throw new Error("a file of it is in no format known");
  const at = end + 7;
  if (viewOf(bytes).getUint32(at, true) !== 0x11223344) throw new Error("a file of it has another order of bytes");
  return at + 4;
}

interface Gaussians {
  readonly books: number;
  readonly streams: number;
  readonly densities: number;
  readonly width: number;
  readonly values: Float32Array;
}

function parseGaussians(bytes: Uint8Array): Gaussians {
  const view = viewOf(bytes);
  const at = afterHeader(bytes);
  const [books, streams, densities] = [0, 4, 8].map((n) => view.getInt32(at + n, true)) as [number, number, number];
  const widths = Array.from({ length: streams }, (_, n) => view.getInt32(at + 12 + n * 4, true));
  const [width = 0] = widths;
  const count = view.getInt32(at + 12 + streams * 4, true);
  if (widths.some((own) => own !== width) || count !== books * streams * densities * width)
    throw new Error("its streams of features are not all of one width: only such models can be read here");
  const from = at + 16 + streams * 4;
  if (bytes.length < from + count * 4) throw new Error("a file of it is cut short");
  return {
    books,
    streams,
    densities,
    width,
    values: Float32Array.from({ length: count }, (_, n) => view.getFloat32(from + n * 4, true)),
  };
}

/** The file has counts: a row's shares are the chances of staying in a state and of going on to the next. */
function parseMoves(bytes: Uint8Array): Float64Array {
  const view = viewOf(bytes);
  const at = afterHeader(bytes);
  const [phones, from, to] = [0, 4, 8].map((n) => view.getInt32(at + n, true)) as [number, number, number];
  if (from !== STATES || to !== STATES + 1) throw new Error("its phones have another number of states");
  const moves = new Float64Array(phones * STATES * 2);
  for (let row = 0; row < phones * STATES; row++) {
    const counts = Array.from({ length: to }, (_, n) => view.getFloat32(at + 16 + (row * to + n) * 4, true));
    const sum = counts.reduce((all, own) => all + own, 0);
    const state = row % STATES;
    [0, 1].forEach((step) => {
      moves[row * 2 + step] = Math.log(Math.max((counts[state + step] ?? 0) / sum, 1e-4));
    });
  }
  return moves;
}

/** The weights of all Gaussians in all states, a byte each: `sendump` without clusters. */
function parseWeights(bytes: Uint8Array, count: number): Uint8Array {
  const view = viewOf(bytes);
  let at = 0;
  for (;;) {
    const length = view.getInt32(at, true);
    at += 4;
    if (length === 0) break;
    const line = latin(bytes.subarray(at, at + length - 1));
    if (/^cluster_count (?!0$)/.test(line))
      throw new Error("its weights are in clusters: such models can't be read here");
    at += length;
  }
  at += 8;
  if (bytes.length < at + count) throw new Error("sendump is cut short");
  return bytes.subarray(at, at + count);
}
