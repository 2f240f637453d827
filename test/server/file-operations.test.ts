/** Books and folders moved in the editor: what is mended before, and what is found after. */
import { afterEach, expect, test } from "vitest";
import {
  DidRenameFilesNotification,
  WillRenameFilesRequest,
  WorkspaceDiagnosticRequest,
  type WorkspaceEdit,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { connect, FOLDER, memoryHost, type Client } from "./client.js";

const base = `book "Base"\ncondition sky: in order bright, dark\npick bait: worm, jig\nfall back on bait jig\n`;
const own = (path: string): string =>
  `book "Own"\nbuilds on "${path}"\npattern "Sun wants worm"\n  go with bait worm\n  when sky is bright\n`;
const uriOf = (name: string): string => `${FOLDER}/${name}`;

/** Lists as they are written. */
const settings = {
  books: `"common", "ponds/*.lore", "cove.lore", "**/*.lore"`,
  except: `"./common/base.lore"`,
  baseline: `"common/known.json"`,
};
const settingsText = ({ books, except, baseline }: typeof settings): string =>
  `{ "books": [${books}],\n  "except": [${except}], "baseline": ${baseline} }\n`;

let client: Client;
afterEach(() => client.end());

const shop = (): Map<string, string> =>
  new Map([
    [uriOf("common/base.lore"), base],
    [uriOf("ponds/mill.lore"), own("../common/base.lore")],
    [uriOf("cove.lore"), own("common/base.lore")],
    [uriOf("waterlore.json"), settingsText(settings)],
  ]);

/** Asks what to mend, does it, moves the files, and says so. */
async function move(files: Map<string, string>, from: string, to: string): Promise<WorkspaceEdit> {
  const moved = { files: [{ oldUri: uriOf(from), newUri: uriOf(to) }] };
  const edit = (await client.connection.sendRequest(WillRenameFilesRequest.type, moved))!;
  for (const [uri, edits] of Object.entries(edit.changes!))
    files.set(uri, TextDocument.applyEdits(TextDocument.create(uri, "", 1, files.get(uri)!), edits));
  for (const [uri, text] of [...files]) {
    if (uri !== uriOf(from) && !uri.startsWith(`${uriOf(from)}/`)) continue;
    files.delete(uri);
    files.set(uriOf(to) + uri.slice(uriOf(from).length), text);
  }
  await client.connection.sendNotification(DidRenameFilesNotification.type, moved);
  return edit;
}

test.each([
  ["a base book", "common/base.lore", "shared/basics.lore", ["cove.lore", "ponds/mill.lore"], { except: `"shared/basics.lore"` }],
  [
    "the folder of a base book",
    "common",
    "ponds/shared",
    ["cove.lore", "ponds/mill.lore"],
    {
      books: `"ponds/shared", "ponds/*.lore", "cove.lore", "**/*.lore"`,
      except: `"ponds/shared/base.lore"`,
      baseline: `"ponds/shared/known.json"`,
    },
  ],
  ["a book that builds on others", "ponds/mill.lore", "ponds/old/mill.lore", ["ponds/mill.lore"], {}],
  [
    "the folder of a book that builds on others",
    "ponds",
    "waters/north/ponds",
    ["ponds/mill.lore"],
    { books: `"common", "waters/north/ponds/*.lore", "cove.lore", "**/*.lore"` },
  ],
  [
    "the settings",
    "waterlore.json",
    "rules/waterlore.json",
    [],
    {
      books: `"../common", "../ponds/*.lore", "../cove.lore", "**/*.lore"`,
      except: `"../common/base.lore"`,
      baseline: `"../common/known.json"`,
    },
  ],
])("%s: whatever names it, or is named by it, is mended", async (_, from, to, books, changes) => {
  const files = shop();
  client = await connect(memoryHost(files));
  client.open(uriOf("cove.lore"), files.get(uriOf("cove.lore"))!);
  expect(client.server.capabilities.workspace?.fileOperations).toHaveProperty("willRename");
  const edit = await move(files, from, to);
  const changed = Object.keys(edit.changes!).filter((uri) => uri.endsWith(".lore"));
  expect(changed.sort()).toEqual(books.map(uriOf));
  client.change(uriOf("cove.lore"), 2, { text: files.get(uriOf("cove.lore"))! });
  const { items } = await client.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  expect(
    items.flatMap((one) => (one.kind === "full" ? one.items.map(({ code }) => code) : [])).filter((code) => code !== "never-recommended"),
  ).toEqual([]);
  expect(files.get(uriOf(to.endsWith(".json") ? to : "waterlore.json"))).toBe(settingsText({ ...settings, ...changes }));
});

test("a book that nobody has saved yet is mended like one in the folder", async () => {
  const files = shop();
  client = await connect(memoryHost(files));
  client.open("untitled:Untitled-1", own("common/base.lore"));
  const edit = await client.connection.sendRequest(WillRenameFilesRequest.type, {
    files: [{ oldUri: uriOf("common/base.lore"), newUri: uriOf("base.lore") }],
  });
  expect(edit!.changes!["untitled:Untitled-1"]).toMatchObject([{ newText: "base.lore" }]);
});
