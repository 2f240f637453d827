/** What a check goes by: the command line before `waterlore.json`, and that before what is usual. */
import { resolve } from "node:path";
import type { Code, Severity } from "../../diagnostics.js";
import { refusals } from "../../messages/ci.js";
import { openCache, usualFolder, type Cache } from "./cache.js";
import { CannotRun, dayOf, stepsOf, type StdinOption } from "../cli/command.js";
import { configOf, type Config } from "../node/config.js";
import type { WhereToLook } from "../node/files.js";

export interface CheckOptions extends StdinOption {
  readonly format: "text" | "json" | "sarif" | "junit" | "github";
  readonly severity?: Severity;
  readonly maxWarnings?: string;
  readonly on?: string;
  readonly steps?: string;
  readonly coverage?: boolean;
  readonly days?: string;
  readonly fix?: boolean;
  readonly baseline?: string;
  readonly writeBaseline?: boolean;
  readonly config?: string;
  readonly watch?: boolean;
  readonly cache: boolean;
  readonly cacheDir?: string;
}

export interface Settings {
  readonly paths: readonly string[];
  readonly look: { readonly from?: WhereToLook["from"]; readonly except: readonly string[]; readonly exceptFrom: string };
  readonly severities: Readonly<Partial<Record<Code, Severity | "off">>>;
  readonly lowest: Severity;
  readonly mostWarnings?: number;
  readonly on: string;
  readonly steps?: number;
  /** A file of known findings. */
  readonly baseline?: string;
  readonly cache?: Cache;
  /** The file that settings were read from. */
  readonly configFile?: string;
}

/** Ends the command where they do not make sense. */
export async function settingsOf(paths: readonly string[], options: CheckOptions): Promise<Settings> {
  const config = await configOf(options.config);
  const baseline = options.baseline ?? inFolder(config, config?.baseline);
  if (options.writeBaseline && baseline === undefined) throw new CannotRun(refusals.whichBaseline);
  if (paths.length === 0 && !config?.books?.length) throw new CannotRun(refusals.noPaths);
  const folder = options.cache ? (options.cacheDir ?? usualFolder()) : undefined;
  return {
    paths: paths.length > 0 ? paths : config!.books!,
    look: { from: paths.length > 0 ? undefined : config!.folder, except: config?.except ?? [], exceptFrom: config?.folder ?? "." },
    severities: config?.severities ?? {},
    lowest: options.severity ?? config?.lowest ?? "error",
    mostWarnings: warningsOf(options.maxWarnings) ?? config?.warnings,
    on: dayOf(options.on ?? config?.day),
    steps: stepsOf(options.steps) ?? config?.steps,
    baseline,
    cache: folder === undefined ? undefined : openCache(folder),
    configFile: config?.file,
  };
}

function inFolder(config: Config | undefined, path: string | undefined): string | undefined {
  return config === undefined || path === undefined ? undefined : resolve(config.folder, path);
}

function warningsOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (!/^\d{1,9}$/.test(text)) throw new CannotRun(refusals.wrongWarnings(text));
  return Number(text);
}
