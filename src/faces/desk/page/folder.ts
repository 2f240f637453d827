/** Where the desk's books are kept: a folder on this computer through the server of the desk, or whatever else can do as much. */
import { encodePath, routes, type FileList, type Refusal } from "../contract.js";

type Read = { readonly text: string; readonly version: string } | { readonly problem: string; readonly isMissing: boolean };
/** `conflict`: the file is no more as it was when it was read. */
type Written = { readonly version: string } | { readonly problem: string; readonly conflict: boolean };

export interface Folder {
  readonly name: string;
  /** Paths from it, in order. */
  files(): Promise<readonly string[]>;
  read(path: string): Promise<Read>;
  /** Replaces a file whole; `before`: the version it was made from, undefined for a file that is not there yet. */
  write(path: string, text: string, before: string | undefined): Promise<Written>;
  /** Tells of what others change in it. */
  watch(changed: (path: string) => void): void;
}

/** The folder that the desk's own server serves. Rejects where the server does not answer, with a sentence in `unreachable`. */
export async function servedFolder(unreachable: string): Promise<Folder> {
  const list = async (): Promise<FileList> => (await (await ask(routes.files)).json()) as FileList;
  const ask = (route: string, init: RequestInit = {}): Promise<Response> =>
    fetch(route, init).catch(() => {
      throw new Error(unreachable);
    });
  const addressOf = (path: string): string => routes.file + encodePath(path);
  const problemIn = async (response: Response): Promise<string> =>
    ((await response.json().catch(() => ({}))) as Partial<Refusal>).problem ?? unreachable;
  const { folder } = await list();
  return {
    name: folder,
    files: async () => (await list()).files,
    read: async (path) => {
      const response = await ask(addressOf(path));
      return response.ok
        ? { text: await response.text(), version: response.headers.get("etag") ?? "" }
        : { problem: await problemIn(response), isMissing: response.status === 404 };
    },
    write: async (path, text, before) => {
      try {
        const response = await ask(addressOf(path), {
          method: "PUT",
          headers: before === undefined ? { "if-none-match": "*" } : { "if-match": before },
          body: text,
        });
        if (response.ok) return { version: response.headers.get("etag") ?? "" };
        return { problem: await problemIn(response), conflict: response.status === 412 };
      } catch (error) {
        return { problem: (error as Error).message, conflict: false };
      }
    },
    watch: (changed) => {
      const events = new EventSource(routes.changes);
      events.addEventListener("message", ({ data }: MessageEvent<string>) => changed(JSON.parse(data) as string));
    },
  };
}
