/**
 * What an open book goes by: the editor's settings before those of its folder, and these before what is usual.
 *
 *     shop/rules/ponds/mill.lore ──▶ shop/rules/ponds/waterlore.json? shop/rules/waterlore.json? …      the nearest one counts, alone
 */
import { URI, Utils } from "vscode-uri";
import { commandRefusals, fileProblems } from "../../messages/cli.js";
import type { Opened } from "../../text.js";
import { CONFIGURATION, readConfiguration, type Configuration } from "../files/configuration.js";
import type { Files } from "./host.js";

export interface BookSettings {
  /** The day to look at the book as of. */
  readonly day: string;
  /** Whether somebody has set that day; it then answers for conditions that are filled from the date. */
  readonly daySet: boolean;
  readonly steps?: number;
  /** How grave kinds of findings are, where that is not as usual. */
  readonly severities: NonNullable<Configuration["severities"]>;
}

export interface Settings {
  /** As long as nobody has looked beside the book. */
  usual(): BookSettings;
  /** Of the book at a URI. Never fails. */
  of(uri: string): Promise<BookSettings>;
}

export interface SettingsOptions {
  readonly files: Pick<Files, "known" | "look">;
  readonly today: () => string;
  readonly client: () => { readonly day?: string; readonly steps?: number };
  /** What a file is called in sentences. */
  readonly pathOf: (uri: string) => string;
  /** Told once about settings that could not be read. */
  readonly warn: (problem: string) => void;
}

export function openSettings({ files, today, client, pathOf, warn }: SettingsOptions): Settings {
  const warned = new Set<string>();
  const kept = new Map<string, { readonly text: string; readonly found: ReturnType<typeof readConfiguration> }>();
  const joined = (folder: Configuration): BookSettings => {
    const { day, steps } = client();
    return {
      day: day ?? folder.day ?? today(),
      daySet: (day ?? folder.day) !== undefined,
      steps: steps ?? folder.steps,
      severities: folder.severities ?? {},
    };
  };
  const open = async (uri: string): Promise<Opened> => {
    for (;;) {
      const opened = files.known(uri);
      if (opened !== undefined) return opened;
      await files.look(uri);
    }
  };
  const readAt = async (uri: string, opened: Opened): ReturnType<typeof readConfiguration> => {
    if ("problem" in opened) return { problem: commandRefusals.cannotRead(pathOf(uri), opened.problem) };
    let known = kept.get(uri);
    if (known?.text !== opened.text) kept.set(uri, (known = { text: opened.text, found: readConfiguration(opened.text, pathOf(uri)) }));
    return known.found;
  };
  return {
    usual: () => joined({}),
    of: async (uri) => {
      for (const place of placesFor(uri)) {
        const opened = await open(place);
        if ("problem" in opened && opened.problem === noFile.problem) continue;
        const read = await readAt(place, opened);
        if ("configuration" in read) return joined(read.configuration);
        if (!warned.has(read.problem)) warn(read.problem);
        warned.add(read.problem);
        break;
      }
      return joined({});
    },
  };
}

const noFile = { problem: fileProblems.byCode["ENOENT"]! };

/** Where the settings of a book may lie, its own folder first; nowhere, if it is not in a file yet. */
function placesFor(book: string): readonly string[] {
  const places: string[] = [];
  try {
    let folder = Utils.dirname(URI.parse(book, true));
    if (folder.scheme === "untitled") return [];
    for (;;) {
      places.push(Utils.joinPath(folder, CONFIGURATION).toString());
      const above = Utils.dirname(folder);
      if (above.path === folder.path) return places;
      folder = above;
    }
  } catch {
    // Whatever a client may send: no URI.
    return [];
  }
}
