/**
 * Sun and moon at a date, a time and a place.
 *
 *     2027-04-15, 19:40, four hours behind UTC, 37.2° N 79.9° W  ──▶  sun 2.1° above the horizon and falling: dusk
 *
 * Positions by astronomy-engine (VSOP87 and the NOVAS routines), within a minute of arc of the published ephemerides, which is far
 * finer than any rule of thumb. Heights are those of the sun's center without the bending of the air.
 */
import { Body, Equator, Horizon, Illumination, MoonPhase, Observer } from "astronomy-engine";

export interface When {
  /** `2027-04-15` */
  readonly date: string;
  /** Minutes since midnight by the clock of the place. */
  readonly minute: number;
  /** Minutes by which that clock is ahead of UTC. */
  readonly zone: number;
}
/** Degrees, north and east positive. */
export interface Where {
  readonly latitude: number;
  readonly longitude: number;
}

export function instantOf({ date, minute, zone }: When): Date {
  return new Date(Date.parse(`${date}T00:00:00Z`) + (minute - zone) * 60_000);
}

/** Degrees above the horizon, and degrees from north by east. */
export function sunAt(at: Date, { latitude, longitude }: Where, meters = 0): { readonly height: number; readonly azimuth: number } {
  const observer = new Observer(latitude, longitude, meters);
  const { ra, dec } = Equator(Body.Sun, at, observer, true, true);
  const { altitude, azimuth } = Horizon(at, observer, ra, dec);
  return { height: altitude, azimuth };
}

/** `phase`: degrees from new (0) by first quarter (90) and full (180); `lit`: how much of the disk, 0 to 1. */
export function moonAt(at: Date): { readonly phase: number; readonly lit: number } {
  return { phase: MoonPhase(at), lit: Illumination(Body.Moon, at).phase_fraction };
}

export type Daylight = "dawn" | "day" | "dusk" | "night";

/** Night ends when the sun is 6° below the horizon (civil twilight), dawn when it stands 6° above it; the same in the evening. */
const twilight = 6;

export function daylightAt(at: Date, place: Where): Daylight {
  const { height } = sunAt(at, place);
  if (height < -twilight) return "night";
  if (height > twilight) return "day";
  return sunAt(new Date(at.valueOf() + 60_000), place).height >= height ? "dawn" : "dusk";
}
