/**
 * `waterlore.json`: what a shop has settled about its checks once and for all.
 *
 *     { "books": ["rules"], "except": ["rules/drafts"], "severities": { "toss-up": "error", "never-asked": "off" }, "baseline": "known.json" }
 *
 * Its text is held against `src/schema/configuration.json`, and what does not fit is said with its line and with what would fit. Where it
 * is looked for, and how it is read, is for those to say who have the files: commands and the server.
 */
import type { ErrorObject } from "ajv";
import { severities, type Code, type Severity } from "../../diagnostics.js";
import { checkRefusals, settingsWords } from "../../messages/ci.js";
import schema from "../../schema/configuration.json" with { type: "json" };
import { nearest } from "../../suggest.js";
import { lineMap, type Range } from "../../text.js";
import { isDay } from "../day.js";
import { namesOf, pointerTo, readJson } from "./json-places.js";

/** What such a file is called. */
export const CONFIGURATION = "waterlore.json";

/** Paths in it are seen from its own folder. */
export interface Configuration {
  readonly books?: readonly string[];
  readonly except?: readonly string[];
  readonly severities?: Readonly<Partial<Record<Code, Severity | "off">>>;
  readonly lowest?: Severity;
  readonly warnings?: number;
  readonly steps?: number;
  readonly day?: string;
  readonly baseline?: string;
}

/** Its text, and what it is called in sentences. A problem is one sentence or several, a line each. */
export async function readConfiguration(
  text: string,
  shown: string,
): Promise<{ readonly configuration: Configuration } | { readonly problem: string }> {
  const bare = text.replace(/^\ufeff/, "");
  const { position } = lineMap(bare);
  const read = await readJson(bare);
  if ("misfit" in read) {
    const { line, column } = position(read.misfit);
    return {
      problem: read.twice === undefined ? checkRefusals.notJson(shown, line, column) : checkRefusals.twice(shown, line, column, read.twice),
    };
  }
  const placeOf = (pointer: string): string => {
    const { line, column } = position(read.places.get(pointer) ?? 0);
    return `${shown}:${line}:${column}`;
  };
  // The validator is loaded when there is something to hold against it.
  const { Ajv2020 } = await import("ajv/dist/2020.js");
  const validate = new Ajv2020({ allErrors: true }).compile<Configuration>(schema);
  if (!validate(read.value)) {
    const problems = (validate.errors ?? []).map((error) => sentence(error, shown, placeOf, read.value));
    return { problem: checkRefusals.settings([...new Set(problems)]) };
  }
  const { day } = read.value;
  if (day !== undefined && !isDay(day)) return { problem: checkRefusals.wrongSetting(placeOf("/day"), "day") };
  return { configuration: read.value };
}

/** Where it names files and folders: of a pattern, the folders before anything that may be otherwise. None where it cannot be read. */
export async function pathsIn(text: string): Promise<readonly { readonly range: Range; readonly path: string }[]> {
  const bare = text.replace(/^\ufeff/, "");
  const read = await readJson(bare);
  if ("misfit" in read) return [];
  return [...read.places].flatMap(([pointer, place]) => {
    const [, written] = /^"((?:[^"\\]|\\.)*)"/.exec(bare.slice(place)) ?? [];
    const path = /^\/(books|except)\/\d+$|^\/baseline$/.test(pointer) && written !== undefined ? settledStart(written) : "";
    const start = text.length - bare.length + place + 1;
    return path === "" ? [] : [{ range: { start, end: start + path.length }, path }];
  });
}

function settledStart(pattern: string): string {
  const open = pattern.search(/[*?{}[\]()!\\]/);
  return open < 0 ? pattern : pattern.slice(0, Math.max(0, pattern.lastIndexOf("/", open)));
}

function sentence(
  { instancePath, keyword, params }: ErrorObject,
  shown: string,
  placeOf: (pointer: string) => string,
  value: unknown,
): string {
  if (keyword === "additionalProperties") {
    const name = String(params["additionalProperty"]);
    const at = placeOf(pointerTo(instancePath, name));
    const known = Object.keys(instancePath === "" ? settingsWords : severities).filter((word) => word !== "$schema");
    return (instancePath === "" ? checkRefusals.noSetting : checkRefusals.noCode)(at, name, known, nearest(name, known));
  }
  const [setting, inside] = namesOf(instancePath);
  if (!isSetting(setting)) return checkRefusals.noObject(shown);
  const at = placeOf(instancePath);
  if (keyword !== "enum") return checkRefusals.wrongSetting(at, setting);
  return checkRefusals.notAllowed(
    at,
    inside ?? setting,
    JSON.stringify(valueAt(value, instancePath)),
    params["allowedValues"] as readonly string[],
  );
}

/** What a pointer points at. */
function valueAt(value: unknown, pointer: string): unknown {
  return namesOf(pointer).reduce((part, name) => (part as Readonly<Record<string, unknown>>)[name], value);
}

function isSetting(name: string | undefined): name is keyof typeof settingsWords {
  return name !== undefined && Object.hasOwn(settingsWords, name);
}
