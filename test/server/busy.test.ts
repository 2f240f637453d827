/** While something takes long, everything else goes on: requests are answered, an edit starts anew, and the editor is told. */
import { setImmediate, setTimeout } from "node:timers/promises";
import { describe, expect, test } from "vitest";
import {
  CancellationTokenSource,
  CodeActionRequest,
  CodeLensRequest,
  HoverRequest,
  LSPErrorCodes,
  WorkDoneProgress,
  WorkDoneProgressCreateRequest,
  type ProgressToken,
} from "vscode-languageserver/node";
import { ASK, EXPLAIN, TABLE, type TableAnswer } from "../../src/faces/server/requests.js";
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

test("the table of a pick comes as soon as it is known what it answers, before the analysis is done", async () => {
  const client = await start(() => false);
  const order: string[] = [];
  client.open(uri, shopBook(120));
  const lenses = client.connection.sendRequest(CodeLensRequest.type, { textDocument }).then(() => order.push("analysis"));
  const table = client.connection.sendRequest<TableAnswer>(TABLE, { textDocument, picks: ["family"] }).then(({ charts }) => {
    order.push("table");
    return charts;
  });
  expect((await table)![0]!.rows.length).toBeGreaterThan(5);
  await lenses;
  expect(order).toEqual(["table", "analysis"]);
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

describe("of an analysed book", () => {
  let [slowly, pauses] = [false, 0];
  const everyPause = (): boolean => {
    pauses++;
    return slowly;
  };
  const params = { textDocument, given: {}, picks: ["color", "weight", "setup"] };
  const range = { start: { line: 0, character: 0 }, end: { line: book.split("\n").length - 1, character: 0 } };
  const requests: readonly (readonly [string, object])[] = [
    [TABLE, params],
    [ASK, params],
    [EXPLAIN, params],
    [CodeActionRequest.method, { textDocument, range, context: { diagnostics: [] } }],
  ];
  const analysed = async (): Promise<Client> => {
    slowly = false;
    const client = await start(everyPause);
    client.open(uri, book);
    await client.told(uri);
    [slowly, pauses] = [true, 0];
    return client;
  };

  test.each(requests)("requests are answered while %s is worked out", async (method, params) => {
    const client = await analysed();
    const order: string[] = [];
    const long = client.connection.sendRequest(method, params).then(() => order.push(method));
    for (let n = 0; n < 3; n++) {
      await client.connection.sendRequest(HoverRequest.type, { textDocument, position: { line: 1, character: 12 } });
      order.push("hover");
    }
    slowly = false;
    await long;
    expect(order).toEqual(["hover", "hover", "hover", method]);
    expect(client.log).toEqual([]);
    await client.end();
  });

  test.each(requests)("%s is given up where the client takes it back", async (method, params) => {
    const client = await analysed();
    const wanted = new CancellationTokenSource();
    const long = client.connection.sendRequest(method, params, wanted.token).then(
      () => "answered",
      ({ code }: { readonly code: number }) => code,
    );
    await client.until(() => pauses > 0, "a pause");
    wanted.cancel();
    expect(await long).toBe(LSPErrorCodes.RequestCancelled);
    expect(pauses).toBe(1);
    await client.end();
  });

  test.each([TABLE, ASK, EXPLAIN])("%s is given up where the book changes", async (method) => {
    const client = await analysed();
    const long = client.connection.sendRequest(method, params);
    await client.until(() => pauses > 0, "a pause");
    client.change(uri, 2, { text: `${book}pattern "One more"\n  go with color color-a\n` });
    expect(await long).toMatchObject({ version: 1, problem: expect.stringContaining("has changed") });
    await client.end();
  });
});
