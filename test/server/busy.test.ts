/** While a book takes long to analyse, everything else goes on: requests are answered, an edit starts anew, and the editor is told. */
import { setImmediate, setTimeout } from "node:timers/promises";
import { expect, test } from "vitest";
import {
  CodeLensRequest,
  HoverRequest,
  WorkDoneProgress,
  WorkDoneProgressCreateRequest,
  type ProgressToken,
} from "vscode-languageserver/node";
import { shopBook } from "../bench/books.js";
import { connect, everything, FOLDER, memoryHost, type Client } from "./client.js";

const uri = `${FOLDER}/shop.lore`;
const textDocument = { uri };
const book = shopBook(60);
const told: string[] = [];

/** Every pause takes long while `slowly` says so: on any machine the analysis then takes long. */
async function start(slowly: () => boolean): Promise<Client> {
  told.length = 0;
  return connect(
    memoryHost(new Map(), { pause: () => (slowly() ? setTimeout(600) : setImmediate()) }),
    { ...everything, window: { workDoneProgress: true } },
    (connection) => {
      connection.onRequest(WorkDoneProgressCreateRequest.type, ({ token }) => {
        const shown: ProgressToken = token;
        connection.onProgress(
          WorkDoneProgress.type,
          shown,
          (progress) => void told.push(progress.kind === "begin" ? `begin ${progress.title}` : progress.kind),
        );
      });
    },
  );
}

test("requests are answered while the analysis runs, and a long one is shown", async () => {
  const client = await start(() => told.length === 0);
  const order: string[] = [];
  client.open(uri, book);
  const lenses = client.connection.sendRequest(CodeLensRequest.type, { textDocument }).then(() => order.push("analysis"));
  for (let n = 0; n < 5; n++) {
    await client.connection.sendRequest(HoverRequest.type, { textDocument, position: { line: 1, character: 12 } });
    order.push("hover");
  }
  await client.until(() => told.length > 0, "progress");
  await lenses;
  expect(order).toEqual(["hover", "hover", "hover", "hover", "hover", "analysis"]);
  await client.until(() => told.length > 1, "the end of progress");
  expect(told).toEqual(["begin Checking shop.lore", "end"]);
  expect(client.log).toEqual([]);
  await client.end();
});

test("an edit gives up the analysis that runs: nothing more is told of the text before", async () => {
  let edited = false;
  const client = await start(() => !edited);
  client.open(uri, book);
  await client.until(() => told.length > 0, "progress");
  edited = true;
  client.change(uri, 2, { text: `${book}pattern "One more"\n  go with family nonsense\n` });
  await client.until(() => client.latest(uri)?.version === 2);
  expect(client.latest(uri)!.diagnostics.map(({ code }) => code)).toEqual(["name"]);
  expect(client.published.filter(({ version }) => version === 1).every(({ diagnostics }) => diagnostics.length === 0)).toBe(true);
  await client.until(() => told.length > 1, "the end of progress");
  expect(told).toEqual(["begin Checking shop.lore", "end"]);
  await client.end();
});
