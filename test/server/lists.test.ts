/** A name changed in a book reaches the shop's lists, asked for first; a client that does not ask is told where it stands. */
import { afterEach, expect, test } from "vitest";
import { ShowMessageNotification, type ClientCapabilities, type WorkspaceEdit } from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { lineMap } from "../../src/text.js";
import { connect, everything, FOLDER, memoryHost, type Client } from "./client.js";

const base = `book "Base"\ncondition clarity "Water clarity": in order clear, muddy\npick color: dark, bright\n`;
const own = `book "Own"\nbuilds on "base.lore"\npick size: small, large\npattern "Mud wants dark"\n  go with color dark\n  when clarity is muddy\nfall back on color bright\nfall back on size small\n`;
const stock = `item,color,size,in stock\r\n"dark horse",dark;bright,small,4\r\n`;
const uriOf = (name: string): string => `${FOLDER}/${name}`;
const shop = (): Map<string, string> =>
  new Map([
    [uriOf("base.lore"), base],
    [uriOf("own.lore"), own],
    [uriOf("lists/stock.csv"), stock],
    [uriOf("lists/log.csv"), "day;Water clarity;trips\n2027-04-03;muddy;3\n"],
    [uriOf("lists/staff.csv"), "name,color\nMia,dark\n"],
  ]);
const asking: ClientCapabilities = {
  ...everything,
  workspace: { workspaceEdit: { documentChanges: true, changeAnnotationSupport: {} } },
};

let client: Client;
afterEach(() => client.end());
const told: string[] = [];
const start = async (capabilities: ClientCapabilities): Promise<void> => {
  told.length = 0;
  client = await connect(memoryHost(shop()), capabilities, (connection) =>
    connection.onNotification(ShowMessageNotification.type, ({ message }) => void told.push(message)),
  );
  client.open(uriOf("base.lore"), base);
};
const rename = (word: string, newName: string): Promise<WorkspaceEdit | null> => {
  const { line, column } = lineMap(base).position(base.indexOf(word));
  return client.connection.sendRequest("textDocument/rename", {
    textDocument: { uri: uriOf("base.lore") },
    position: { line: line - 1, character: column - 1 },
    newName,
  });
};
/** The lists after an edit that somebody has confirmed, and all that was changed without being asked for. */
const listsAfter = ({ documentChanges = [], changeAnnotations }: WorkspaceEdit): Readonly<Record<string, string>> =>
  Object.fromEntries(
    documentChanges.flatMap((change) => {
      if (!("textDocument" in change) || !change.textDocument.uri.endsWith(".csv")) return [];
      const { uri } = change.textDocument;
      const edits = change.edits.flatMap((edit) => ("newText" in edit ? [edit] : []));
      for (const edit of edits) {
        expect(edit).toHaveProperty("annotationId");
        expect(changeAnnotations![(edit as { readonly annotationId: string }).annotationId]).toMatchObject({ needsConfirmation: true });
      }
      return [[uri.slice(FOLDER.length + 1), TextDocument.applyEdits(TextDocument.create(uri, "", 1, shop().get(uri)!), edits)]];
    }),
  );

test.each([
  ["dark", "dusk", { "lists/stock.csv": stock.replace(",dark;", ",dusk;") }],
  ["color", "shade", { "lists/stock.csv": stock.replace("item,color", "item,shade") }],
  ["muddy", "brown", { "lists/log.csv": "day;Water clarity;trips\n2027-04-03;brown;3\n" }],
  // Its column goes by its label.
  ["clarity", "visibility", {}],
])("%s, renamed to %s", async (word, now, lists) => {
  await start(asking);
  const edit = (await rename(word, now))!;
  expect(listsAfter(edit)).toEqual(lists);
  const books =
    edit.changes ?? Object.fromEntries(edit.documentChanges!.map((one) => ["textDocument" in one ? one.textDocument.uri : "", one]));
  expect(Object.keys(books)).toEqual(expect.arrayContaining([uriOf("base.lore"), uriOf("own.lore")]));
  expect(told).toEqual([]);
});

test("what cannot stand in a list as it is is left there, and said", async () => {
  await start(asking);
  expect(listsAfter((await rename("dark", '"dusk, then night"'))!)).toEqual({});
  await client.until(() => told.length > 0);
  expect(told).toEqual([expect.stringMatching(/lists\/stock\.csv.*dusk, then night/)]);
});

test("a client that does not ask first changes no list, and is told which to look at", async () => {
  await start(everything);
  const edit = (await rename("dark", "dusk"))!;
  expect(Object.keys(edit.changes!).sort()).toEqual([uriOf("base.lore"), uriOf("own.lore")]);
  await client.until(() => told.length > 0);
  expect(told).toEqual([expect.stringMatching(/lists\/stock\.csv/)]);
});
