/** What is said to someone who gives a value for a condition. */
import { listed } from "./words.js";

export const aDay = "a day like apr 15, or a date like 2027-04-15";
export const aTime = "a time from 00:00 to 23:59, like 05:30";
export const oneOf = (levels: readonly string[]): string => (levels.length === 1 ? levels[0]! : `one of ${listed(levels, "or")}`);
export const someOf = (members: readonly string[], atLeastOne: boolean): string =>
  atLeastOne
    ? `one or more of ${listed(members)}, joined by commas (or semicolons)`
    : `any of ${listed(members)}, joined by commas (or semicolons), or none`;
/** `names`: of bands or groups, which are taken as well. */
export const orNamed = (accepted: string, names: readonly string[]): string =>
  names.length === 0 ? accepted : `${accepted}; or ${names.length === 1 ? "" : "one or more of "}${listed(names, "or")}`;
export const aNumber = (low: string, high: string, units: readonly string[] | undefined): string =>
  `a number from ${low} to ${high}${units === undefined || units.length < 2 ? "" : ` (in ${listed(units, "or")})`}`;
export const without = (member: string): string => `no ${member}`;

/** `accepted`: what would be, as the end of a sentence. */
export const notAccepted = (condition: string, given: string, accepted: string, close?: string): string =>
  `${given === "" ? `Nothing was given for ${condition}` : `${condition} cannot be “${clip(given)}”`}${close === undefined ? "" : `: did you mean ${close}?`}${close === undefined ? ": it" : " It"} takes ${accepted}.`;
export const outOfRange = (condition: string, given: string, accepted: string): string =>
  `${clip(given)} is out of range for ${condition}, which takes ${accepted}.`;

function clip(text: string): string {
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}
