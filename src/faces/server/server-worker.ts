/** The language server as a web worker: talks to the page that started it. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { serve } from "./server.js";
import { workerHost } from "./worker-host.js";

const page = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];
const connection = createConnection(new BrowserMessageReader(page), new BrowserMessageWriter(page));
serve(connection, workerHost(connection));
connection.listen();
