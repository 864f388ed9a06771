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
  // The Breakfast Boat
  "Marit Oskvall": { voice: HTS, pitch: -30, tempo: 1.08 },
  "Dele Farrowby": { voice: "flite rms", pitch: -90, tempo: 1.05 },
  "Tomasz Quillby": { voice: "flite awb", pitch: -60, tempo: 1.02, from: "outdoors" },
  "Priyamvada Stoll": { voice: "flite slt", pitch: 40, tempo: 1.04 },
  "Theodora Ngata-Bright": { voice: "flite slt", pitch: -170, tempo: 1.06, size: 0.98 },
  "Elspeth Adeyemi-Crane": { voice: HTS, pitch: -200, tempo: 0.95, size: 0.97 },
  "Lachlan Peverill": { voice: KAL, pitch: -160, tempo: 0.98, from: "outdoors" },
  "Yolanda Fitch-Harrow": { voice: "flite slt", pitch: 170, tempo: 1.05, size: 1.03 },
  "Agnete Pourrell": { voice: HTS, pitch: 120, tempo: 1.02, size: 1.02 },
  "Bram Costigane": { voice: KED, pitch: -120, tempo: 0.94 },
  "Ndidi Calloway": { voice: "flite slt", pitch: 220, tempo: 1.1, size: 1.05, from: "outdoors" },
  "Blessing Okorley": { voice: "flite slt", pitch: -110, tempo: 1, size: 1.01 },
  "Noor Ellish": { voice: HTS, pitch: 90, tempo: 1, from: "phone" },
  "Gideon Marsh-Oluwole": { voice: KAL, pitch: -60, tempo: 0.96, from: "phone" },
  "Saoirse Pemberly": { voice: "flite slt", pitch: 200, tempo: 1.08, size: 1.05, from: "phone" },
  "Abelard Kinsolving": { voice: KED, pitch: -40, tempo: 0.94, from: "phone" },
  "Farid Tolmund": { voice: "flite kal16", pitch: -190, tempo: 0.95 },
  "Zofia Wrenthal": { voice: HTS, pitch: -260, tempo: 0.94, from: "outdoors" },
  "Anatole Brightwater": { voice: "flite awb", pitch: 120, tempo: 0.98, size: 1.03, from: "outdoors" },
  "Bronagh Velaster": { voice: "espeak-ng en-gb-scotland+f3" },
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
  // The Late Lamp
  "Oisin Calderbank": { voice: "flite rms", pitch: -50, tempo: 1.04 },
  "Mirela Stancroft": { voice: "flite slt", pitch: 60, tempo: 1.05, from: "outdoors" },
  "Hector Ailwyn": { voice: KED, pitch: -150, tempo: 0.95, from: "outdoors" },
  "Rosamund Eke": { voice: HTS, pitch: -160, tempo: 0.98, size: 0.98 },
  "Leopold Tansy-Marsh": { voice: "flite awb", pitch: -120, tempo: 0.97 },
  "Ingrid Solway": { voice: HTS, pitch: 40, tempo: 1.04 },
  "Petronella Gauge": { voice: "flite slt", pitch: -210, tempo: 0.96, size: 0.97 },
  "Bertil Oxenham": { voice: "flite kal16", pitch: -130, tempo: 1.02, from: "phone" },
  "Fitzroy Lannick": { voice: "flite awb", pitch: 90, tempo: 1.07 },
  "Ambrose Kitto": { voice: KAL, pitch: -30, tempo: 1.02, from: "outdoors" },
  "Delphine Rook": { voice: "flite slt", pitch: 130, tempo: 1.02, size: 1.03 },
  // Slack Water
  "Saskia Thornquist": { voice: HTS, pitch: -60, tempo: 1.06 },
  "Benedict Arlow": { voice: "flite rms", pitch: -70, tempo: 1.04 },
  "Emeka Strandling": { voice: "flite awb", pitch: -40, tempo: 1.05, from: "outdoors" },
  "Adaeze Brimble": { voice: "flite slt", pitch: 100, tempo: 1.04, size: 1.02, from: "outdoors" },
  "Walter Skene": { voice: KED, pitch: -100, tempo: 0.96, from: "outdoors" },
  "Jonah Tressick": { voice: "flite rms", pitch: -140, tempo: 1.02 },
  "Magda Ellerin": { voice: "flite slt", pitch: -150, tempo: 1.01 },
  "Cato Windermoor": { voice: "flite awb", pitch: -130, tempo: 0.98 },
  "Ludmila Caird": { voice: "flite slt", pitch: -70, tempo: 1.05 },
  "Imke Sallowfield": { voice: "espeak-ng en-gb-scotland+f2", from: "outdoors" },
  "Osbert Quillane": { voice: KAL, pitch: -100, tempo: 0.97, from: "outdoors" },
  "Ottilie Marram": { voice: "flite slt", pitch: 110, tempo: 1.02, size: 1.02 },
  "Zebedee Plume": { voice: KED, pitch: -60, tempo: 0.95 },
  "Florian Maybury": { voice: "flite awb", pitch: 20, tempo: 1.03, from: "phone" },
  "Pelham Oduro": { voice: "flite awb", pitch: 60, tempo: 1.08 },
  "Sunday Okpara-Lisle": { voice: "flite slt", pitch: 190, tempo: 1.06, size: 1.04, from: "outdoors" },
  "Tamsin Okerlo": { voice: "flite slt", pitch: 20, tempo: 1.04, from: "outdoors" },
  "Hanne Wickersley": { voice: "flite slt", pitch: -230, tempo: 0.96, size: 0.97, from: "outdoors" },
  // The two sisters are to sound alike.
  "Orla Fennimore": { voice: HTS, pitch: -230, tempo: 0.95, size: 0.98 },
  "Nuala Fennimore": { voice: HTS, pitch: -190, tempo: 0.98, size: 0.98 },
  "Kenelm Dastry": { voice: "flite awb", pitch: -10, tempo: 1.02 },
  "Aurelio Bancroft": { voice: KED, pitch: -140, tempo: 0.94, from: "outdoors" },
  "Ismay Tollard": { voice: "flite slt", pitch: 200, tempo: 0.98, size: 1.05 },
  "Perpetua Lomax": { voice: "flite slt", pitch: -190, tempo: 0.98, size: 0.98 },
  "Morwenna Hask": { voice: "flite slt", pitch: 80, tempo: 1.04, from: "phone" },
  "Dennis Orrowby": { voice: KAL, pitch: -90, tempo: 0.96, from: "phone" },
  "Philippa Orme": { voice: HTS, pitch: 230, tempo: 1.04, size: 1.08, from: "phone" },
  "Silas Gorringe": { voice: "flite rms", pitch: -200, tempo: 0.96, from: "phone" },
  "Constance Abney-Wood": { voice: "flite slt", pitch: -220, tempo: 0.94, size: 0.97, from: "phone" },
  "Anders Pilbeam": { voice: KAL, pitch: -130, tempo: 0.98, from: "outdoors" },
  "Eudora Ashgill": { voice: "flite slt", pitch: -170, tempo: 0.96, size: 0.99, from: "outdoors" },
  "Ulric Stannaway": { voice: KED, pitch: -80, tempo: 1.02, from: "phone" },
  "Tibor Hallaran": { voice: "flite kal16", pitch: -60, tempo: 0.98 },
  "Barnaby Crake": { voice: "flite awb", pitch: -80, tempo: 0.95 },
  "Hyacinth Moule": { voice: "flite slt", pitch: 150, tempo: 1.05, size: 1.02, from: "phone" },
  // Der Abendkutter
  "Hedda Marquardsen": { voice: "espeak-ng de+f2", tempo: 1.05 },
  "Jannis Rohloff": { voice: "espeak-ng de+m3", tempo: 1.08, from: "outdoors" },
  "Valentina Brogel": { voice: "espeak-ng de+f4", pitch: -80, from: "outdoors" },
  "Enno Tjarksen": { voice: "espeak-ng de+m1", pitch: -150, tempo: 0.95, size: 0.97 },
  "Ceylan Ostermeer": { voice: "espeak-ng de+f3", pitch: 120, tempo: 1.06 },
  "Ruthild Baumgarth": { voice: "espeak-ng de+f5", pitch: -120, size: 0.98 },
  "Philippa Sundermann": { voice: "espeak-ng de+f1", pitch: -60, tempo: 0.98 },
  "Ivar Dreskow": { voice: "espeak-ng de+m7", pitch: -200, tempo: 0.92 },
};
