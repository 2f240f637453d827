/**
 * The desk: books on one side, the one in front in the middle, and beside it what a customer sees or what there is to settle.
 *
 *     folder ──▶ books ──▶ editors ◀──LSP──▶ language server (a worker)
 *                  │           │ every keystroke
 *                shelf      drafts          preview, settle ◀── after a pause
 */
import { deskWords } from "../../../messages/desk.js";
import { isBook } from "../contract.js";
import { element, refill } from "../../../publish/page/element.js";
import type { Assets } from "../../../publish/page-html.js";
import { bookFileName, newBookText } from "../../files/new-book.js";
import { openBooks, type Books } from "./books.js";
import { openDrafts } from "./drafts.js";
import { openEditors, type Editors } from "./editor.js";
import { servedFolder } from "./folder.js";
import { startLanguage, uriOf } from "./language.js";
import { openPreview } from "./preview.js";
import { openSettle } from "./settle.js";
import { openShelf } from "./shelf.js";
import { STANDING, type StandingAnswer, type StandingParams } from "../../server/requests.js";
import { meetTabs } from "./tabs.js";

/** Milliseconds without a keystroke before what a customer sees is drawn anew. */
const PAUSE = 250;

type Panel = "customer" | "settle";
const panels: readonly Panel[] = ["customer", "settle"];

async function start(): Promise<void> {
  const main = document.getElementById("desk")!;
  const folder = await servedFolder(deskWords.unreachable);
  const drafts = await openDrafts(folder.name, () => say(deskWords.keepsNothing));
  const books = await openBooks(folder, drafts);
  const notice = document.getElementById("notice")!;
  const say = (text: string): void => void (notice.textContent = text);
  let panel: Panel = "customer";
  const writing = new Set<string>();
  const client = startLanguage({
    code: textOf("server-code"),
    read: (path) => {
      const book = books.at(path);
      return Promise.resolve(
        book === undefined || book.problem !== undefined ? { problem: book?.problem ?? deskWords.noFile } : { text: book.text },
      );
    },
    files: () => books.all().map(({ path }) => path),
    found: (path, findings) => {
      books.found(path, findings);
      // Of the book in front it is asked when all is found; of the others all is told at once.
      if (path !== editors.front()) books.checked(path);
    },
    writing: (path, isWriting) => {
      if (isWriting) writing.add(path);
      else writing.delete(path);
      drawBar();
    },
  });

  const save = async (): Promise<void> => {
    const path = editors.front();
    if (path !== undefined && (await books.save(path))) say(deskWords.saved(path));
  };
  const holder = element("div", { class: "editors" });
  const editors: Editors = openEditors(holder, books, client, { save: () => void save() });
  const preview = openPreview(client, assets());
  const settle = openSettle(client, books, () => editors);
  /** Asked again where the book changes meanwhile. */
  const check = async (): Promise<void> => {
    const path = editors.front();
    if (path === undefined || !isBook(path)) return;
    const text = books.at(path)?.text;
    client.sync();
    const params: StandingParams = { textDocument: { uri: uriOf(path) } };
    const { problem } = await client.request<StandingParams, StandingAnswer>(STANDING, params);
    if (problem === undefined && books.at(path)?.text === text) books.checked(path);
  };
  const tabs = meetTabs(folder.name, (path) => {
    if (path === editors.front()) say(deskWords.otherTab(path));
  });
  const open = (path: string): void => {
    const book = books.at(path);
    if (book === undefined) return;
    say(book.problem ?? "");
    if (book.problem !== undefined) return;
    editors.show(path);
    tabs.has(path);
    drawAll();
  };
  const make = (title: string): void => {
    const path = freeName(books, `${bookFileName(title)}.lore`);
    books.create(path, newBookText(title));
    open(path);
    editors.show(path, { line: 0, character: 0 });
  };
  const shelf = openShelf(books, { open, make });
  const bar = element("div", { class: "bar" });
  const drawBar = (): void => {
    const path = editors.front();
    const book = path === undefined ? undefined : books.at(path);
    if (path === undefined || book === undefined) return refill(bar, element("p", { class: "quiet" }, deskWords.chooseBook));
    const { theirs, refused } = book;
    const unsaved = books.isUnsaved(path);
    refill(
      bar,
      element(
        "p",
        { class: "where" },
        element("strong", {}, path),
        " ",
        element("span", { class: "quiet", id: "standing" }, unsaved ? deskWords.unsaved : deskWords.isSaved),
      ),
      writing.has(path) && element("p", { class: "quiet" }, deskWords.writing),
      refused !== undefined && element("p", { class: "problem", role: "alert" }, refused),
      theirs !== undefined &&
        element(
          "div",
          { class: "problem", role: "alert" },
          element("p", {}, theirs === "gone" ? deskWords.gone(path) : deskWords.changedBelow(path)),
          element("button", { type: "button", onclick: () => books.settle(path, "mine") }, deskWords.keepMine),
          element("button", { type: "button", onclick: () => books.settle(path, "theirs") }, deskWords.takeTheirs),
          theirs !== "gone" &&
            element("button", { type: "button", onclick: () => books.settle(path, { copy: freeName(books, path) }) }, deskWords.keepBoth),
        ),
      element(
        "button",
        { type: "button", id: "save", class: "main", disabled: !unsaved || theirs !== undefined, onclick: () => void save() },
        deskWords.save,
      ),
    );
  };
  const panelTabs = panels.map((name) =>
    element(
      "button",
      {
        type: "button",
        id: `panel-${name}`,
        onclick: () => {
          panel = name;
          drawBeside();
        },
      },
      deskWords.panels[name],
    ),
  );
  const drawBeside = (): void => {
    const path = editors.front();
    panels.forEach((name, at) => panelTabs[at]!.setAttribute("aria-current", name === panel ? "true" : "false"));
    preview.element.hidden = panel !== "customer";
    settle.element.hidden = panel !== "settle";
    if (panel === "settle") settle.draw(path);
    else void preview.draw(path);
    const findings = (path === undefined ? undefined : books.findings(path)) ?? [];
    panelTabs[1]!.textContent = findings.length === 0 ? deskWords.panels.settle : `${deskWords.panels.settle} (${findings.length})`;
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** After a pause in the typing. */
  const soon = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      drawBeside();
      const path = editors.front();
      if (path !== undefined && !books.isChecked(path)) check().catch(() => undefined);
    }, PAUSE);
  };
  const drawAll = (): void => {
    shelf.draw(editors.front());
    drawBar();
    drawBeside();
    soon();
  };
  main.replaceChildren(
    shelf.element,
    element("section", { class: "book", "aria-label": deskWords.middle }, bar, holder),
    element(
      "section",
      { class: "beside", "aria-label": deskWords.beside },
      element("div", { class: "panel-tabs" }, panelTabs),
      preview.element,
      settle.element,
    ),
  );
  books.onChange((path, change) => {
    if (change === "taken") editors.taken(path);
    if (change === "list" && books.at(path) === undefined) editors.forget(path);
    // What the server read of a book that is not in front is so no more.
    if (change !== "state" && path !== editors.front())
      client.notification("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf(path), type: books.at(path) ? 2 : 3 }] });
    if (change !== "text") {
      shelf.draw(editors.front());
      drawBar();
    }
    soon();
  });
  addEventListener("beforeunload", (event) => {
    // Nothing would be lost, but the folder does not have it.
    if (books.all().some(({ path }) => books.isUnsaved(path))) event.preventDefault();
  });
  drawAll();
  const first = books.all().find(({ path, problem }) => isBook(path) && problem === undefined);
  if (first) open(first.path);
}

function assets(): Assets {
  const [script, style] = [textOf("page-code"), textOf("page-style")];
  const hashes = JSON.parse(textOf("page-hashes")) as Readonly<Record<"script" | "style", string>>;
  return { script, style, sha256: (text) => (text === script.trim() ? hashes.script : hashes.style) };
}

/** What the desk's page brings along. */
function textOf(id: string): string {
  return document.getElementById(id)!.textContent;
}

/** `pond.lore`, `pond-2.lore` … */
function freeName(books: Books, path: string): string {
  let free = path;
  for (let n = 2; books.at(free) !== undefined; n++) free = path.replace(/(\.[a-z]+)$/, `-${n}$1`);
  return free;
}

start().catch((error: unknown) => {
  document.getElementById("notice")!.textContent = error instanceof Error ? error.message : String(error);
});
