/**
 * Promises in the test explorer: a book, and under it what it promises. A run checks the book; what fails says on which day.
 *
 *     Promises
 *       blades.lore
 *         ✓ Every fish has a blade
 *         ✗ Never a willow in mud          clarity muddy, cover grass
 *
 * Books are looked through for promises once, opened when one unfolds or runs them, and followed while they are open.
 */
import {
  languages,
  Location,
  Range,
  TestMessage,
  TestRunProfileKind,
  tests,
  workspace,
  type CancellationToken,
  type ExtensionContext,
  type TestController,
  type TestItem,
  type TestRun,
  type TestRunRequest,
  type Uri,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import type { PromiseStanding } from "../server/requests.js";
import { language } from "./names.js";
import { standingOf } from "./standing.js";

const say = extensionWords.promises;

export function promisesAsTests(context: ExtensionContext, client: BaseLanguageClient): void {
  const controller = tests.createTestController("waterlore.promises", say.name);
  const profile = controller.createRunProfile(
    say.check,
    TestRunProfileKind.Run,
    (request, token) => run(controller, client, request, token),
    true,
  );
  controller.resolveHandler = async (item) => void (item ? await unfold(controller, client, item) : await findBooks(controller));
  controller.refreshHandler = () => findBooks(controller);
  context.subscriptions.push(
    controller,
    profile,
    languages.onDidChangeDiagnostics(({ uris }) => {
      for (const uri of uris) {
        const item = controller.items.get(uri.toString());
        if (item && workspace.textDocuments.some((one) => one.uri.toString() === item.id)) void unfold(controller, client, item);
      }
    }),
    workspace.onDidOpenTextDocument(({ uri, languageId, getText }) => {
      if (languageId === language && makesPromises(getText())) bookItem(controller, uri);
    }),
  );
}

async function findBooks(controller: TestController): Promise<void> {
  for (const uri of await workspace.findFiles("**/*.lore", "**/node_modules/**"))
    if (makesPromises(new TextDecoder().decode(await workspace.fs.readFile(uri)))) bookItem(controller, uri);
}

function makesPromises(text: string): boolean {
  return /^\s*promise\s/m.test(text);
}

function bookItem(controller: TestController, uri: Uri): TestItem {
  const known = controller.items.get(uri.toString());
  if (known) return known;
  const item = controller.createTestItem(uri.toString(), workspace.asRelativePath(uri), uri);
  item.canResolveChildren = true;
  controller.items.add(item);
  return item;
}

/** The promises of a book as they stand; undefined where that could not be told. */
async function unfold(
  controller: TestController,
  client: BaseLanguageClient,
  book: TestItem,
): Promise<readonly { readonly item: TestItem; readonly promise: PromiseStanding }[] | undefined> {
  const standing = await standingOf(client, await workspace.openTextDocument(book.uri!));
  if (standing?.promises === undefined) return undefined;
  const found = standing.promises.map((promise) => {
    const id = `${book.id} ${promise.title}`;
    const item = book.children.get(id) ?? controller.createTestItem(id, promise.title, book.uri);
    const { start, end } = promise.range;
    item.range = new Range(start.line, start.character, end.line, end.character);
    return { item, promise };
  });
  book.children.replace(found.map(({ item }) => item));
  return found;
}

async function run(
  controller: TestController,
  client: BaseLanguageClient,
  request: TestRunRequest,
  token: CancellationToken,
): Promise<void> {
  if (request.include === undefined) await findBooks(controller);
  const all = [...controller.items].map(([, item]) => item);
  const wanted = request.include ?? all;
  const books = all.filter((book) => wanted.some((item) => item === book || item.parent === book));
  const asked = (item: TestItem, book: TestItem): boolean =>
    (wanted.includes(item) || wanted.includes(book)) && !request.exclude?.some((one) => one === item || one === book);
  const outcome = controller.createTestRun(request);
  for (const book of books) {
    if (token.isCancellationRequested) break;
    for (const { item, promise } of (await unfold(controller, client, book)) ?? []) if (asked(item, book)) tell(outcome, item, promise);
  }
  outcome.end();
}

function tell(outcome: TestRun, item: TestItem, { state, example = "" }: PromiseStanding): void {
  if (state === "holds") return outcome.passed(item);
  const message = new TestMessage(state === "fails" ? say.fails(example) : say.open);
  message.location = new Location(item.uri!, item.range!);
  if (state === "fails") outcome.failed(item, message);
  else outcome.errored(item, message);
}
