/** What a check goes by beyond what every command does: which books, what counts, what is known. */
import { resolve } from "node:path";
import type { Code, Severity } from "../../diagnostics.js";
import { checkRefusals } from "../../messages/ci.js";
import { openCache, usualFolder, type Cache } from "../node/cache.js";
import type { Config } from "../node/config.js";
import { CannotRun } from "../node/exit.js";
import type { WhereToLook } from "../node/find-books.js";
import { settingsOf, type SettingOptions, type Settings } from "../node/settings.js";
import type { StdinOption } from "../node/source.js";
import type { CheckedBook } from "./check-book.js";

export interface CheckOptions extends StdinOption, SettingOptions {
  readonly format: "text" | "json" | "sarif" | "junit" | "github";
  readonly severity?: Severity;
  readonly warnings?: string;
  readonly coverage?: boolean;
  readonly days?: string;
  readonly fix?: boolean;
  readonly baseline?: string;
  readonly writeBaseline?: boolean;
  readonly watch?: boolean;
  readonly cache: boolean;
  readonly cacheDir?: string;
}

export interface CheckSettings extends Settings {
  readonly paths: readonly string[];
  readonly look: { readonly from?: WhereToLook["from"]; readonly except: readonly string[]; readonly exceptFrom: string };
  readonly severities: Readonly<Partial<Record<Code, Severity | "off">>>;
  readonly lowest: Severity;
  readonly mostWarnings?: number;
  /** A file of known findings. */
  readonly baseline?: string;
  readonly cache?: Cache<CheckedBook>;
}

/** Ends the command where they do not make sense. */
export async function checkSettingsOf(paths: readonly string[], options: CheckOptions): Promise<CheckSettings> {
  const settings = await settingsOf(options);
  const { config } = settings;
  const baseline = options.baseline ?? inFolder(config, config?.baseline);
  if (options.writeBaseline && baseline === undefined) throw new CannotRun(checkRefusals.whichBaseline);
  if (paths.length === 0 && !config?.books?.length) throw new CannotRun(checkRefusals.noPaths);
  const folder = options.cache ? (options.cacheDir ?? usualFolder()) : undefined;
  return {
    ...settings,
    paths: paths.length > 0 ? paths : config!.books!,
    look: { from: paths.length > 0 ? undefined : config!.folder, except: config?.except ?? [], exceptFrom: config?.folder ?? "." },
    severities: config?.severities ?? {},
    lowest: options.severity ?? config?.lowest ?? "error",
    mostWarnings: warningsOf(options.warnings) ?? config?.warnings,
    baseline,
    cache: folder === undefined ? undefined : openCache(folder),
  };
}

function inFolder(config: Config | undefined, path: string | undefined): string | undefined {
  return config === undefined || path === undefined ? undefined : resolve(config.folder, path);
}

function warningsOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (!/^\d{1,9}$/.test(text)) throw new CannotRun(checkRefusals.wrongWarnings(text));
  return Number(text);
}
