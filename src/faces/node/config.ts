/**
 * `waterlore.json`: what a shop has settled about its checks once and for all.
 *
 *     { "books": ["rules"], "except": ["rules/drafts"], "severities": { "toss-up": "error", "never-asked": "off" }, "baseline": "known.json" }
 *
 * It is looked for in the working folder and then in those above it. Paths in it are seen from its own folder. It is held against
 * `src/schema/configuration.json`, and what does not fit is said with its line and with what would fit.
 */
import type { ErrorObject } from "ajv";
import { dirname, resolve } from "node:path";
import { severities, type Code, type Severity } from "../../diagnostics.js";
import { checkRefusals, settingsWords } from "../../messages/ci.js";
import { commandRefusals } from "../../messages/cli.js";
import { nearest } from "../../suggest.js";
import { lineMap } from "../../text.js";
import { isDay } from "../day.js";
import { CannotRun } from "./exit.js";
import { namesOf, pointerTo, readJson } from "./json-places.js";
import { nearestAbove, shownPath } from "./paths.js";
import { readText } from "./read.js";
import { validatorOf } from "./schemas.js";

export interface Config {
  /** Its own folder. */
  readonly folder: string;
  readonly file: string;
  readonly books?: readonly string[];
  readonly except?: readonly string[];
  readonly severities?: Readonly<Partial<Record<Code, Severity | "off">>>;
  readonly lowest?: Severity;
  readonly warnings?: number;
  readonly steps?: number;
  readonly day?: string;
  readonly baseline?: string;
}

/** The settings that hold for a folder: its own, or those of the nearest one above. */
export function nearestConfig(folder: string): string | undefined {
  return nearestAbove(folder, "waterlore.json");
}

/** The settings in the file that was given, else in the nearest one; ends the command if they cannot be read. */
export async function configOf(given: string | undefined, from = process.cwd()): Promise<Config | undefined> {
  const file = given ?? nearestConfig(from);
  if (file === undefined) return undefined;
  const opened = readText(file);
  if ("problem" in opened) throw new CannotRun(commandRefusals.cannotRead(shownPath(file), opened.problem));
  return { ...(await readConfig(shownPath(file), opened.text)), folder: dirname(resolve(file)), file };
}

async function readConfig(shown: string, text: string): Promise<Omit<Config, "folder" | "file">> {
  const bare = text.replace(/^\ufeff/, "");
  const { position } = lineMap(bare);
  const read = await readJson(bare);
  if ("misfit" in read) {
    const { line, column } = position(read.misfit);
    throw new CannotRun(
      read.twice === undefined ? checkRefusals.notJson(shown, line, column) : checkRefusals.twice(shown, line, column, read.twice),
    );
  }
  const placeOf = (pointer: string): string => {
    const { line, column } = position(read.places.get(pointer) ?? 0);
    return `${shown}:${line}:${column}`;
  };
  const validate = await validatorOf<Omit<Config, "folder" | "file">>("configuration");
  if (!validate(read.value)) {
    const problems = (validate.errors ?? []).map((error) => sentence(error, shown, placeOf, read.value));
    throw new CannotRun(checkRefusals.settings([...new Set(problems)]));
  }
  const { day } = read.value;
  if (day !== undefined && !isDay(day)) throw new CannotRun(checkRefusals.wrongSetting(placeOf("/day"), "day"));
  return read.value;
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
