/** What a command goes by: its own options before `waterlore.json`, and that before what is usual. */
import { commandRefusals } from "../../messages/cli.js";
import { isDay, today } from "../day.js";
import { configOf, type Config } from "./config.js";
import { CannotRun } from "./exit.js";
import { shownPath } from "./paths.js";

export interface SettingOptions {
  readonly on?: string;
  readonly steps?: string;
  readonly config?: string;
}

export interface Settings {
  /** The day to look at books as of. */
  readonly on: string;
  /** That day, if somebody has given it, and who: a day that nobody has given is not known. */
  readonly day?: string;
  readonly dayFrom?: string;
  readonly steps?: number;
  readonly config?: Config;
}

/** Throws `CannotRun` where they do not make sense. */
export async function settingsOf(options: SettingOptions): Promise<Settings> {
  const config = await configOf(options.config);
  const day = options.on ?? config?.day;
  if (day !== undefined && !isDay(day)) throw new CannotRun(commandRefusals.wrongDate(day));
  return {
    on: day ?? today(),
    day,
    dayFrom: options.on === undefined ? config && shownPath(config.file) : undefined,
    steps: stepsOf(options.steps) ?? config?.steps,
    config,
  };
}

function stepsOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (!/^[1-9]\d{0,14}$/.test(text)) throw new CannotRun(commandRefusals.wrongSteps(text));
  return Number(text);
}
