/**
 * The `waterlore.json` that a command goes by: the one it was given, else that of the working folder or of the nearest one above it.
 */
import { dirname, resolve } from "node:path";
import { commandRefusals } from "../../messages/cli.js";
import { CONFIGURATION, readConfiguration, type Configuration } from "../files/configuration.js";
import { CannotRun } from "./exit.js";
import { nearestAbove, shownPath } from "./paths.js";
import { readText } from "./read.js";

export interface Config extends Configuration {
  /** Its own folder. */
  readonly folder: string;
  readonly file: string;
}

/** The settings in the file that was given, else in the nearest one; throws `CannotRun` if they cannot be read. */
export async function configOf(given: string | undefined, from = process.cwd()): Promise<Config | undefined> {
  const file = given ?? nearestAbove(from, CONFIGURATION);
  if (file === undefined) return undefined;
  const opened = readText(file);
  if ("problem" in opened) throw new CannotRun(commandRefusals.cannotRead(shownPath(file), opened.problem));
  const read = await readConfiguration(opened.text, shownPath(file));
  if ("problem" in read) throw new CannotRun(read.problem);
  return { ...read.configuration, folder: dirname(resolve(file)), file };
}
