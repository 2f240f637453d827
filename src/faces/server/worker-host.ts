/** The server's host in a web worker: it has no files, so it asks the client for their texts, and remembers them. */
import type { Connection } from "vscode-languageserver";
import { fileProblems } from "../../messages/cli.js";
import type { Opened } from "../../text.js";
import { today } from "../day.js";
import type { Host } from "./host.js";
import { FILES, READ, type FileAnswer, type FileParams, type FilesParams } from "./requests.js";

export function workerHost(connection: Connection): Host {
  const texts = new Map<string, Opened>();
  /** What is asked for just now, once for all who want it; what changes meanwhile is no answer any more. */
  const asked = new Map<string, Promise<void>>();
  const ask = (uri: string): Promise<void> => {
    const params: FileParams = { uri };
    const answered = async (): Promise<void> => {
      const answer = await connection
        .sendRequest<FileAnswer>(READ, params)
        .catch((): FileAnswer => ({ problem: fileProblems.byCode["ENOENT"]! }));
      if (asked.get(uri) !== question) return;
      asked.delete(uri);
      texts.set(uri, answer);
    };
    const question = answered();
    asked.set(uri, question);
    return question;
  };
  return {
    files: {
      known: (uri) => texts.get(uri),
      look: (uri) => asked.get(uri) ?? ask(uri),
      forget: (uri) => {
        for (const known of [texts, asked]) for (const one of known.keys()) if (one === uri || one.startsWith(`${uri}/`)) known.delete(one);
      },
      real: (uri) => uri,
      books: () => connection.sendRequest<string[]>(FILES).catch(() => []),
      lists: async () => {
        const params: FilesParams = { ending: "csv" };
        const found = await connection.sendRequest<string[]>(FILES, params).catch(() => []);
        return found.filter((uri) => uri.endsWith(".csv"));
      },
      checked: (uris) => Promise.resolve(uris),
    },
    today: () => today(),
    hintPage: () => undefined,
    pause: () =>
      new Promise((done) => {
        const { port1, port2 } = new MessageChannel();
        port1.addEventListener("message", () => {
          port1.close();
          done();
        });
        port1.start();
        port2.postMessage(undefined);
      }),
  };
}
