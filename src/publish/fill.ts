/** What a date, a time and a place say about the conditions of a book, each as a value that `readGiven` takes. */
import { printTime } from "../model/calendar.js";
import type { Condition, Model } from "../model/model.js";
import { daylightAt, instantOf, moonAt, sunAt, type Daylight, type Where } from "./sky.js";

export interface Moment {
  readonly date?: string;
  /** Minutes since midnight. */
  readonly minute?: number;
  readonly zone: number;
  readonly place?: Where;
}

/** By name of the condition; what cannot be told is left out. */
export function filledAt(model: Model, { date, minute, zone, place }: Moment): ReadonlyMap<string, string> {
  const at = date !== undefined && minute !== undefined ? instantOf({ date, minute, zone }) : undefined;
  const values = new Map<string, string>();
  for (const condition of model.conditions) {
    const value = valueFor(condition);
    if (value !== undefined) values.set(condition.name, value);
  }
  return values;

  function valueFor(condition: Condition): string | undefined {
    const { domain, filledFrom } = condition;
    if (filledFrom === "date") return date;
    if (filledFrom === "clock") return minute === undefined ? undefined : printTime(minute);
    if (filledFrom === "sun")
      return at && place && domain.kind === "measure"
        ? inRange(sunAt(at, place).height, condition)
        : at && place && daylight(condition, daylightAt(at, place));
    if (filledFrom === "moon" && date !== undefined) return moon(condition, moonAt(at ?? instantOf({ date, minute: 720, zone })));
    return at && place && daylight(condition, daylightAt(at, place));
  }
}

/** The levels a scale of daylight may have, by what they are. */
const words: Readonly<Record<Daylight, readonly string[]>> = {
  dawn: ["dawn", "sunrise"],
  day: ["daytime", "day", "daylight"],
  dusk: ["dusk", "sunset"],
  night: ["night"],
};

/** A scale with dawn, day, dusk and night among its levels goes by the sun, whether the book says so or not. */
function daylight({ domain }: Condition, now: Daylight): string | undefined {
  if (domain.kind !== "scale") return undefined;
  const levelFor = (one: Daylight): string | undefined => words[one].find((word) => domain.levels.includes(word));
  const all = (["dawn", "day", "dusk", "night"] as const).map(levelFor);
  return all.includes(undefined) ? undefined : levelFor(now);
}

function moon(condition: Condition, { phase, lit }: { readonly phase: number; readonly lit: number }): string | undefined {
  const { domain } = condition;
  if (domain.kind === "measure") return inRange(domain.unit?.kind === "angle" ? phase : lit * 100, condition);
  // Levels that begin at new share out the circle, each around its own moment.
  if (domain.kind === "scale" && domain.levels[0]?.startsWith("new"))
    return domain.levels[Math.round((phase / 360) * domain.levels.length) % domain.levels.length];
  return undefined;
}

function inRange(value: number, { domain }: Condition): string | undefined {
  if (domain.kind !== "measure") return undefined;
  const kept = Math.min(domain.high.valueOf(), Math.max(domain.low.valueOf(), value));
  return kept.toFixed(2);
}
