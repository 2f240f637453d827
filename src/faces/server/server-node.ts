/** The language server as a process of Node: talks over what its command line says (`--stdio`, `--node-ipc`, `--socket=…`). */
import { createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { nodeHost } from "./node-host.js";
import { serve } from "./server.js";

const connection = createConnection(ProposedFeatures.all);
serve(connection, nodeHost());
connection.listen();
