/**
 * What an open book goes by: the editor's settings before those beside the book, and these before what is usual.
 */
import type { FolderSettings, Host } from "./host.js";

export interface BookSettings {
  /** The day to look at the book as of. */
  readonly day: string;
  /** Whether somebody has set that day; it then answers for conditions that are filled from the date. */
  readonly daySet: boolean;
  readonly steps?: number;
  /** How grave kinds of findings are, where that is not as usual. */
  readonly severities: NonNullable<FolderSettings["severities"]>;
}

export interface Settings {
  /** As long as nobody has looked beside the book. */
  usual(): BookSettings;
  /** Of the book at a URI. Never fails. */
  of(uri: string): Promise<BookSettings>;
}

export interface SettingsOptions {
  readonly host: Host;
  readonly client: () => { readonly day?: string; readonly steps?: number };
  /** Told once about settings that could not be read. */
  readonly warn: (problem: string) => void;
}

export function openSettings({ host, client, warn }: SettingsOptions): Settings {
  const warned = new Set<string>();
  const joined = (folder: FolderSettings): BookSettings => {
    const { day, steps } = client();
    return {
      day: day ?? folder.day ?? host.today(),
      daySet: (day ?? folder.day) !== undefined,
      steps: steps ?? folder.steps,
      severities: folder.severities ?? {},
    };
  };
  return {
    usual: () => joined({}),
    of: async (uri) => {
      const folder = await host.settingsFor(uri);
      if (folder.problem !== undefined && !warned.has(folder.problem)) {
        warned.add(folder.problem);
        warn(folder.problem);
      }
      return joined(folder);
    },
  };
}
