/** Requests over the protocol: each answered in its terms, across open and closed books, in broken text and for books nobody has opened. */
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import {
  CancellationTokenSource,
  CodeActionRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  CompletionRequest,
  DefinitionRequest,
  DocumentFormattingRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  DocumentRangeFormattingRequest,
  DocumentSymbolRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  LSPErrorCodes,
  PrepareRenameRequest,
  ReferencesRequest,
  RenameRequest,
  SelectionRangeRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
  WorkspaceSymbolRequest,
  type CodeAction,
  type LocationLink,
  type Position,
  type TextEdit,
} from "vscode-languageserver/node";
import {
  clientCommands,
  EXPLAIN,
  STANDING,
  SUBJECT,
  TABLE,
  type StandingAnswer,
  type ExplainAnswer,
  type SubjectAnswer,
  type TableAnswer,
} from "../../src/faces/server/requests.js";
import { lineMap } from "../../src/text.js";
import { connect, everything, FOLDER, memoryHost, suggested, type Client } from "./client.js";

const base = `book "Base"
condition sky: in order bright, dark
condition wind: in order calm, strong
pick bait: worm, jig
`;
const own = `book "Pier"
builds on "common/base.lore"
pattern "Sun wants worm"
  go with bait worm
  when sky is bright
pattern "Wind wants jig"
  go with bait jig
  when wind is strong
fall back on bait jig
promise "Never empty": bait must have an answer
`;
const other = `book "Pond"\nbuilds on "common/base.lore"\npattern "Dark"\n  go with bait jig\n  when sky is dark\nfall back on bait worm\n`;
const [baseUri, ownUri, otherUri] = [`${FOLDER}/common/base.lore`, `${FOLDER}/pier.lore`, `${FOLDER}/pond.lore`];

let client: Client;
let text: string;
/** What the client says it can carry out. */
let commands: readonly string[] = [];
beforeEach(async () => {
  text = own;
  client = await connect(
    memoryHost(
      new Map([
        [baseUri, base],
        [ownUri, own],
        [otherUri, other],
      ]),
    ),
    { ...everything, workspace: { workspaceFolders: true } },
    undefined,
    { initializationOptions: { inlayHints: true, commands } },
  );
  client.open(ownUri, own);
});
afterEach(async () => {
  expect(client.log).toEqual([]);
  await client.end();
});

const textDocument = { uri: ownUri };
/** The place of the n-th sign of some words. */
const at = (words: string, n = 0) => {
  const { line, column } = lineMap(text).position(text.indexOf(words) + n);
  return { line: line - 1, character: column - 1 };
};
const whole = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

describe("a book that can be read", () => {
  test("completes by context", async () => {
    text = own.replace("go with bait worm", "go with bait ");
    client.change(ownUri, 2, { text });
    const { items } = await suggested(client, {
      textDocument,
      position: at("go with bait ", 13),
    });
    expect(
      items
        .slice(0, 2)
        .map(({ label }) => label)
        .sort(),
    ).toEqual(["jig", "worm"]);
    expect(items.map(({ sortText }) => sortText)).toEqual(items.map(({ sortText }) => sortText!).sort());
  });

  test("completes the paths of other books", async () => {
    const { items } = await suggested(client, {
      textDocument,
      position: at("common/base", 3),
    });
    expect(items.map(({ textEdit }) => textEdit?.newText).join(" ")).toContain("pond.lore");
  });

  test("a book that has no file yet builds on what lies in the folder", async () => {
    const uri = "untitled:Untitled-1";
    const unsaved = `book "New"\nbuilds on "common/base.lore"\nbuilds on ""\n`;
    client.open(uri, unsaved);
    const { items } = await suggested(client, { textDocument: { uri }, position: { line: 2, character: 11 } });
    expect(items.map(({ label }) => label)).toEqual(["pier.lore", "pond.lore"]);
    await client.told(uri);
    expect(client.latest(uri)!.diagnostics.filter(({ range }) => range.start.line === 1)).toEqual([]);
  });

  test("says what a word is, where it is declared, and where it is spoken of, in closed books too", async () => {
    const position = at("sky is bright", 1);
    expect(JSON.stringify(await client.connection.sendRequest(HoverRequest.type, { textDocument, position }))).toContain("bright");
    const [link] = (await client.connection.sendRequest(DefinitionRequest.type, { textDocument, position })) as LocationLink[];
    expect(link).toMatchObject({
      targetUri: baseUri,
      targetSelectionRange: { start: { line: 1, character: 10 }, end: { line: 1, character: 13 } },
    });
    const references = await client.connection.sendRequest(ReferencesRequest.type, {
      textDocument,
      position,
      context: { includeDeclaration: true },
    });
    expect(references!.map(({ uri }) => uri).sort()).toEqual([baseUri, ownUri, otherUri].sort());
    expect(await client.connection.sendRequest(DocumentHighlightRequest.type, { textDocument, position: at("bait worm", 1) })).toHaveLength(
      4,
    );
  });

  test("renames across books, and refuses in words", async () => {
    const position = at("sky is bright", 1);
    expect(await client.connection.sendRequest(PrepareRenameRequest.type, { textDocument, position })).toMatchObject({
      placeholder: "sky",
    });
    const edit = await client.connection.sendRequest(RenameRequest.type, { textDocument, position, newName: "light" });
    expect(
      Object.entries(edit!.changes!)
        .map(([uri, edits]) => `${uri}: ${edits.map(({ newText }) => newText).join()}`)
        .sort(),
    ).toEqual([baseUri, ownUri, otherUri].map((uri) => `${uri}: light`).sort());
    await expect(client.connection.sendRequest(RenameRequest.type, { textDocument, position, newName: "wind" })).rejects.toMatchObject({
      code: LSPErrorCodes.RequestFailed,
      message: expect.stringMatching(/wind/),
    });
  });

  test("has an outline, folds, selections, links and colors", async () => {
    const symbols = await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument });
    expect(symbols!.map(({ name }) => name)).toContain("Sun wants worm");
    const found = await client.connection.sendRequest(WorkspaceSymbolRequest.type, { query: "dark" });
    expect(found!.map(({ name, location }) => [name, location.uri])).toEqual(
      expect.arrayContaining([
        ["dark", baseUri],
        ["Dark", otherUri],
      ]),
    );
    expect(await client.connection.sendRequest(FoldingRangeRequest.type, { textDocument })).toEqual(
      expect.arrayContaining([{ startLine: 2, endLine: 4 }]),
    );
    const [selection] = (await client.connection.sendRequest(SelectionRangeRequest.type, { textDocument, positions: [at("bright", 1)] }))!;
    expect(selection!.range).toEqual({ start: at("bright"), end: at("bright", 6) });
    expect(selection!.parent).toBeDefined();
    expect(await client.connection.sendRequest(DocumentLinkRequest.type, { textDocument })).toMatchObject([{ target: baseUri }]);
    const { data } = (await client.connection.sendRequest(SemanticTokensRequest.type, { textDocument }))!;
    expect(data.length % 5).toBe(0);
    expect(data.length).toBeGreaterThan(50);
    const part = await client.connection.sendRequest(SemanticTokensRangeRequest.type, {
      textDocument,
      range: { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } },
    });
    expect(part!.data.length).toBeLessThan(data.length);
  });

  test("is put into its usual shape by small edits, whole or in part", async () => {
    text = own.replace("  when sky", "when   sky").replace("  when wind", "when   wind");
    client.change(ownUri, 2, { text });
    const options = { tabSize: 2, insertSpaces: true };
    const edits = await client.connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options });
    expect(applied(text, edits!)).toBe(own);
    const part = await client.connection.sendRequest(DocumentRangeFormattingRequest.type, {
      textDocument,
      options,
      range: { start: at("Sun wants"), end: at("Sun wants", 5) },
    });
    expect(applied(text, part!)).toContain("when   wind");
    expect(applied(text, part!)).toContain("  when sky");
  });

  test("says beside promises and patterns how they fare, once that is known", async () => {
    const lenses = (await client.connection.sendRequest(CodeLensRequest.type, { textDocument }))!;
    const said = await Promise.all(lenses.map((lens) => client.connection.sendRequest(CodeLensResolveRequest.type, lens)));
    expect(said).toHaveLength(3);
    expect(said.every(({ command }) => command !== undefined && command.title !== "")).toBe(true);
    const hints = await client.connection.sendRequest(InlayHintRequest.type, { textDocument, range: whole });
    expect(hints!.length).toBe(2);
  });
});

describe("a client that knows how to go on", () => {
  beforeAll(() => (commands = Object.values(clientCommands)));
  afterAll(() => (commands = []));

  test("is led from a pattern to its rows and to its rival, from a broken promise to the day", async () => {
    text = own.replace("fall back on bait jig\n", "").replace("must have an answer", "must be worm");
    client.change(ownUri, 2, { text });
    const lenses = (await client.connection.sendRequest(CodeLensRequest.type, { textDocument }))!;
    const said = await Promise.all(lenses.map((lens) => client.connection.sendRequest(CodeLensResolveRequest.type, lens)));
    const leads = said.map(({ command }) => [command?.command, ...(command?.arguments ?? [])]);
    expect(leads.filter(([command]) => command === clientCommands.rows)).toEqual([
      [clientCommands.rows, ownUri, "bait", "Sun wants worm"],
      [clientCommands.rows, ownUri, "bait", "Wind wants jig"],
    ]);
    expect(leads.filter(([command]) => command === clientCommands.go)).toEqual([
      [clientCommands.go, ownUri, { start: at('"Wind wants jig"'), end: at('"Wind wants jig"', 16) }],
      [clientCommands.go, ownUri, { start: at('"Sun wants worm"'), end: at('"Sun wants worm"', 16) }],
    ]);
    const [, uri, given] = leads.find(([command]) => command === clientCommands.day)!;
    const told = await client.connection.sendRequest<ExplainAnswer>(EXPLAIN, { textDocument: { uri }, given });
    expect(told.markdown).toContain("bait");
  });

  test("renames at once what was extracted", async () => {
    text = own.replace("when wind is strong", "when sky is bright and wind is strong");
    client.change(ownUri, 2, { text });
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument,
      range: { start: at("sky is bright and", 2), end: at("sky is bright and", 2) },
      context: { diagnostics: [], only: ["refactor.extract"] },
    })) as CodeAction[];
    const { edit, command } = actions.find((action) => action.command !== undefined)!;
    const changed = applied(text, edit!.changes![ownUri]!);
    expect(command!.command).toBe(clientCommands.rename);
    const [, position] = command!.arguments as [string, Position];
    expect(changed.split("\n")[position.line]!.slice(position.character)).toBe("sky-bright and wind is strong");
  });
});

describe("quick fixes", () => {
  test("of two findings that one change mends, it is offered once", async () => {
    text = own
      .replace('pattern "Sun', 'pick line: mono, braid\nfall back on line mono\npattern "Sun')
      .replace("bait worm\n", "bait worm\n  go with line mono\n")
      .replace("bait jig\n  when", "bait jig\n  go with line braid\n  when");
    client.change(ownUri, 2, { text });
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument,
      range: { start: at("Wind wants"), end: at("Wind wants", 4) },
      context: { diagnostics: [], only: ["quickfix"] },
    })) as CodeAction[];
    expect(client.latest(ownUri)!.diagnostics.filter(({ code }) => code === "conflict")).toHaveLength(2);
    const titles = actions.map(({ title }) => title);
    expect(titles.length).toBeGreaterThan(1);
    expect(new Set(titles).size).toBe(titles.length);
  });

  test("wait for the analysis, name what they mend, and mend it", async () => {
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument,
      range: { start: at("Wind wants"), end: at("Wind wants", 4) },
      context: { diagnostics: [], only: ["quickfix"] },
    })) as CodeAction[];
    expect(actions.length).toBeGreaterThan(1);
    expect(actions.every(({ kind, diagnostics }) => kind === "quickfix" && diagnostics?.[0]?.code === "conflict")).toBe(true);
    client.change(ownUri, 2, { text: applied(own, actions[0]!.edit!.changes![ownUri]!) });
    await client.told(ownUri);
    expect(client.latest(ownUri)).toMatchObject({ version: 2, diagnostics: [] });
  });

  test("come at once for what reading finds", async () => {
    text = own.replace("bait worm", "bait wrom");
    client.change(ownUri, 2, { text });
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument,
      range: { start: at("wrom"), end: at("wrom", 2) },
      context: { diagnostics: [], only: ["quickfix"] },
    })) as CodeAction[];
    expect(actions[0]!.title).toBe("Write worm");
    expect(applied(text, actions[0]!.edit!.changes![ownUri]!)).toBe(own);
  });

  test("are of the kinds that were asked for", async () => {
    const range = { start: at("Sun wants"), end: at("when sky is bright", 10) };
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument,
      range,
      context: { diagnostics: [], only: ["refactor"] },
    })) as CodeAction[];
    expect(actions.every(({ kind }) => kind?.startsWith("refactor"))).toBe(true);
  });
});

describe("beyond the protocol", () => {
  test("the table tells each row's cells, its answer, and where the patterns stand that decided", async () => {
    const table = await client.connection.sendRequest<TableAnswer>(TABLE, { textDocument });
    expect(table).toMatchObject({ version: 1, headline: "Pier", charts: [{ pick: "bait", label: "bait" }] });
    const { head, rows } = table.charts![0]!;
    expect(head).toEqual(expect.arrayContaining(["sky", "wind"]));
    expect(rows.every(({ cells }) => cells.length === head.length)).toBe(true);
    const calm = rows.find(({ answer }) => answer === "worm")!;
    expect(calm.because).toEqual([
      { title: "Sun wants worm", uri: ownUri, range: { start: at("Sun wants worm"), end: at("Sun wants worm", 14) } },
    ]);
  });

  test("a place is about a pick, and stands in a pattern", async () => {
    const ask = (position: Position) => client.connection.sendRequest<SubjectAnswer>(SUBJECT, { textDocument, position });
    expect(await ask(at("sky is bright"))).toEqual({ version: 1, picks: ["bait"], pattern: "Sun wants worm" });
    expect(await ask({ line: 0, character: 0 })).toEqual({ version: 1, picks: [] });
  });

  test("an answer is explained, with the patterns that it names", async () => {
    const explained = await client.connection.sendRequest<ExplainAnswer>(EXPLAIN, { textDocument, given: { sky: "bright", wind: "calm" } });
    expect(explained.problem).toBeUndefined();
    expect(explained.because!.map(({ title }) => title)).toEqual(["Sun wants worm"]);
    for (const form of [explained.text!, explained.markdown!]) expect(form).toMatch(/worm/);
    expect(explained.parts).toMatchObject({ title: "Pier", picks: [{ label: "bait", answer: "worm", status: "decided", applies: true }] });
    expect(explained.parts!.conditions.map(({ condition }) => condition)).toEqual(["sky", "wind"]);
  });

  test("what cannot be is said in a sentence", async () => {
    expect((await client.connection.sendRequest<ExplainAnswer>(EXPLAIN, { textDocument, given: { sky: "purple" } })).problem).toMatch(
      /purple/,
    );
    for (const method of [TABLE, EXPLAIN])
      expect(
        (await client.connection.sendRequest<TableAnswer>(method, { textDocument: { uri: "file:///nowhere.lore" }, given: {} })).problem,
      ).toBeTruthy();
  });
});

test("says how a book stands, and what to settle next", async () => {
  const answer = await client.connection.sendRequest<StandingAnswer>(STANDING, { textDocument });
  expect(answer).toMatchObject({
    version: 1,
    picks: [{ label: "bait" }],
    next: { uri: ownUri, title: "Two patterns disagree" },
    promises: [{ uri: ownUri, title: "Never empty" }],
  });
  expect(
    (await client.connection.sendRequest<StandingAnswer>(STANDING, { textDocument: { uri: "file:///nowhere.lore" } })).problem,
  ).toBeTruthy();
});

test("a book that nobody has opened has empty answers", async () => {
  const nobody = { textDocument: { uri: "file:///nowhere.lore" }, position: { line: 0, character: 0 } };
  expect(await client.connection.sendRequest(CompletionRequest.type, nobody)).toEqual([]);
  expect(await client.connection.sendRequest(HoverRequest.type, nobody)).toBeNull();
  expect(await client.connection.sendRequest(DocumentSymbolRequest.type, nobody)).toBeNull();
});

test("positions beyond the end of a line or of the book are its end", async () => {
  const offered = async (line: number, character: number): Promise<readonly string[]> =>
    (await suggested(client, { textDocument, position: { line, character } })).items.map(({ label }) => label);
  const unfinished = own.replace("sky is bright", "sky is ");
  client.change(ownUri, 2, { text: unfinished });
  const lines = unfinished.split("\n");
  const when = await offered(4, lines[4]!.length);
  expect(when).toContain("bright");
  expect(await offered(4, 999)).toEqual(when);
  const end = await offered(lines.length - 1, 0);
  expect(end).toContain("pattern");
  expect(await offered(999, 999)).toEqual(end);
});

test("what was called off is not answered", async () => {
  const source = new CancellationTokenSource();
  client.change(ownUri, 2, { text: `${own}-- more\n` });
  const asked = client.connection.sendRequest(CodeLensRequest.type, { textDocument }, source.token);
  source.cancel();
  await expect(asked).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
});

function applied(before: string, edits: readonly TextEdit[]): string {
  const lines = lineMap(before);
  const offset = ({ line, character }: TextEdit["range"]["start"]): number => lines.offset({ line: line + 1, column: character + 1 });
  return [...edits]
    .sort((a, b) => offset(b.range.start) - offset(a.range.start))
    .reduce((now, { range, newText }) => now.slice(0, offset(range.start)) + newText + now.slice(offset(range.end)), before);
}
