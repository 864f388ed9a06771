/** How a speaker sounds. */
export interface Voice {
  /** A voice of the synthesiser: `flite slt`, `festival ked_diphone`, `espeak-ng en-gb+f3`. */
  readonly voice: string;
  /** Higher or lower, in hundredths of a semitone. */
  readonly pitch?: number;
  /** Quicker than the voice's own pace. */
  readonly tempo?: number;
  /** A smaller body than the voice's own: higher and brighter. */
  readonly size?: number;
  /** Down a telephone line, or out of doors. */
  readonly from?: "phone" | "outdoors";
}

const HTS = "festival cmu_us_slt_arctic_hts";
const KAL = "festival kal_diphone";
const KED = "festival ked_diphone";

/** Who speaks with what voice. Chosen so that neighbours differ, before anything was measured. */
export const VOICES: Readonly<Record<string, Voice>> = {
  // The Midday Round
  "Iseult Brandvik": { voice: "flite slt", pitch: -60, tempo: 1.03 },
  "Kwabena Ardle": { voice: "flite rms", pitch: -40, from: "outdoors" },
  "Sunniva Thackrall": { voice: HTS, pitch: 60, tempo: 1.02 },
  "Ioana Brezlan": { voice: HTS, pitch: -110, tempo: 1.06 },
  "Casimir Dunthorne": { voice: "flite awb", tempo: 1.04 },
  "Joaquim Straithe": { voice: "flite kal16", pitch: 40, tempo: 1.02 },
  "Anselm Dray": { voice: "flite rms", pitch: -180, tempo: 0.98, from: "phone" },
  "Leocadia Strand": { voice: "flite slt", pitch: -230, tempo: 0.94, size: 1.02, from: "outdoors" },
  "Hamza Yewdall": { voice: KAL, pitch: -120, tempo: 0.96 },
  "Perla Oduya": { voice: "flite slt", pitch: 130, tempo: 0.97, size: 1.03 },
  "Gudrun Applegarth": { voice: HTS, pitch: -220, tempo: 0.92, size: 0.98, from: "outdoors" },
  "Ezekiel Thorne-Pask": { voice: KED, pitch: 140, tempo: 1.1, size: 1.03 },
  "Odette Marchbanks": { voice: HTS, pitch: 150, tempo: 0.9, size: 1.04 },
};
