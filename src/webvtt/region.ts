import { type CueSetting, cutAtComma, parsePercentage } from "./settings.ts";

/** The names, values and defaults of the VTTRegion interface (WebVTT §9.2). */
export interface RegionSettings {
  /** "" when the block gives none; no cue can then name it. */
  readonly id: string;
  /** A percentage of the picture's width. */
  readonly width: number;
  readonly lines: number;
  /** Percentages. */
  readonly regionAnchorX: number;
  readonly regionAnchorY: number;
  readonly viewportAnchorX: number;
  readonly viewportAnchorY: number;
  readonly scroll: "" | "up";
}

const DEFAULT_REGION: RegionSettings = {
  id: "",
  width: 100,
  lines: 3,
  regionAnchorX: 0,
  regionAnchorY: 100,
  viewportAnchorX: 0,
  viewportAnchorY: 100,
  scroll: "",
};

/** "Collect WebVTT region settings" (WebVTT §6.2). What can't be taken is left out alone; of two, the later counts. */
export function parseRegion(settings: readonly CueSetting[]): RegionSettings {
  let region = DEFAULT_REGION;
  for (const setting of settings) region = { ...region, ...readRegionSetting(setting) };
  return region;
}

/** What one setting changes; null when a parser leaves it out. */
export function readRegionSetting({ name, value }: CueSetting): Partial<RegionSettings> | null {
  switch (name) {
    case "id":
      return { id: value };
    case "width": {
      const width = parsePercentage(value);
      return width === null ? null : { width };
    }
    case "lines": {
      const lines = /^\d+$/.test(value) ? Number(value) : Number.POSITIVE_INFINITY;
      return Number.isFinite(lines) ? { lines } : null;
    }
    case "regionanchor": {
      const anchor = parseAnchor(value);
      return anchor && { regionAnchorX: anchor[0], regionAnchorY: anchor[1] };
    }
    case "viewportanchor": {
      const anchor = parseAnchor(value);
      return anchor && { viewportAnchorX: anchor[0], viewportAnchorY: anchor[1] };
    }
    case "scroll":
      return value === "up" ? { scroll: "up" } : null;
    default:
      return null;
  }
}

function parseAnchor(value: string): readonly [number, number] | null {
  const [x, y] = cutAtComma(value);
  const [left, top] = [parsePercentage(x), parsePercentage(y ?? "")];
  return left === null || top === null ? null : [left, top];
}
