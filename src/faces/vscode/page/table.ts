/**
 * The page that shows the table beside the book. It runs in the webview, where there is a DOM and nothing else; every text reaches it
 * as plain text.
 *
 *     Pick [ Blade shape ▾ ]                        12 rows
 *     Water clarity │ Cover │ Blade shape, and what decided it
 *     clear         │ grass │ leaf
 *                   │       │ ‹Soft cover wants a leaf›      each title a button; a click anywhere in the row does the same
 *     muddy         │ any   │ ○ nothing                      what is no answer has a sign and words, not only a color
 *
 * Where the window is too narrow for that, each row is set below the other, without the conditions that do not matter in it.
 */
import { tableWords } from "../../../messages/table.js";
import { extensionWords } from "../../../messages/vscode.js";
import type { FromPage, Remembered, Shown, ShownRow, ToPage } from "./messages.js";

declare function acquireVsCodeApi(): {
  postMessage(message: FromPage): void;
  getState(): Remembered | undefined;
  setState(state: Remembered): void;
};

const host = acquireVsCodeApi();
const say = extensionWords.table;
const { any } = tableWords;
const main = document.querySelector("main")!;
const uri = main.dataset["book"]!;
const title = element("h1", {}, say.heading);
const status = element("p", { class: "status", role: "status" });
const content = element("div", { class: "content" });
main.append(title, status, content);
new ResizeObserver(fit).observe(main);

let place: string | undefined;
/** The title of a pattern whose rows are marked. */
let marked: string | undefined;

window.addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
  main.setAttribute("aria-busy", String(data.kind === "working"));
  if (data.kind === "working") status.textContent = content.childElementCount === 0 ? say.working : say.behind;
  else if (data.kind === "nothing") {
    status.textContent = "";
    content.replaceChildren(element("p", { class: "nothing" }, data.text));
  } else show(data.table);
});
document.addEventListener("focusin", ({ target }) => (place = target instanceof HTMLElement ? target.dataset["key"] : undefined));
host.postMessage({ kind: "ready" });

/** Whoever was on a row or in the choice of picks stays there. */
function show(table: Shown): void {
  host.setState({ uri, pick: table.pick });
  title.textContent = table.title;
  status.textContent = say.rows(table.rows.length);
  const kept = place;
  marked = table.marked ?? marked;
  content.replaceChildren(
    choiceOf(table),
    ...(table.warning === undefined ? [] : [element("p", { class: "warning" }, `⚠ ${table.warning}`)]),
    tableOf(table),
    ...table.notes.map((note) => element("p", { class: "note" }, note)),
    ...(table.cautions.length === 0
      ? []
      : [element("h2", {}, say.mind), element("ul", {}, ...table.cautions.map((caution) => element("li", {}, caution)))]),
  );
  fit();
  if (table.marked !== undefined) content.querySelector(".marked")?.scrollIntoView({ block: "center" });
  if (kept !== undefined) content.querySelector<HTMLElement>(`[data-key="${CSS.escape(kept)}"]`)?.focus({ preventScroll: true });
}

function fit(): void {
  main.classList.remove("narrow");
  main.classList.toggle("narrow", (content.querySelector("table")?.scrollWidth ?? 0) > main.clientWidth);
}

function choiceOf({ picks, pick }: Shown): HTMLElement {
  const select = element(
    "select",
    { "data-key": "pick" },
    ...picks.map(({ name, label }) => element("option", { value: name, ...(name === pick && { selected: "" }) }, label)),
  );
  select.addEventListener("change", () => host.postMessage({ kind: "pick", name: select.value }));
  return element("label", { class: "choice" }, `${say.of} `, select);
}

/** The roles are said as well, since a narrow table is laid out as none. */
function tableOf({ head, rows }: Shown): HTMLElement {
  const conditions = head.slice(0, -1);
  const body = element("tbody", { role: "rowgroup" }, ...rows.map((row, at) => rowOf(row, conditions, rows[at - 1], at)));
  body.addEventListener("keydown", walk);
  const top = head.map((label, at) =>
    element(
      "th",
      { scope: "col", role: "columnheader", ...(at === conditions.length && { class: "answer" }) },
      at === conditions.length ? say.decided(label) : label,
    ),
  );
  return element(
    "table",
    { role: "table" },
    element("caption", {}, say.keys),
    element("thead", { role: "rowgroup" }, element("tr", { role: "row" }, ...top)),
    body,
  );
}

/** A cell that repeats the one above, as do all before it, or in which anything will do, is printed faintly. */
function rowOf(row: ShownRow, conditions: readonly string[], above: ShownRow | undefined, at: number): HTMLElement {
  let repeats = above !== undefined;
  const cells = row.when.map((words, column) => {
    repeats &&= words === above!.when[column];
    return element("td", { role: "cell", "data-label": conditions[column]!, class: words === any ? "any" : repeats ? "same" : "" }, words);
  });
  const sign = say.signs[row.status];
  const answer = element(
    "div",
    { class: `answer ${row.status.replaceAll(" ", "-")}` },
    ...(sign === undefined ? [] : [element("span", { "aria-hidden": "true", class: "sign" }, sign)]),
    row.answer,
  );
  const buttons = row.because.map(({ title, place: target }, nth) => {
    const button = element("button", { type: "button", title: say.go(title), "data-key": `${at}/${nth}` }, title);
    button.addEventListener("click", (event) => {
      event.stopPropagation();
      host.postMessage({ kind: "go", place: target });
    });
    return button;
  });
  const isMarked = row.because.some(({ title }) => title === marked);
  const line = element(
    "tr",
    {
      class: [...(row.because.length > 0 ? ["goes"] : []), ...(isMarked ? ["marked"] : [])].join(" "),
      role: "row",
      "data-row": String(at),
      ...(isMarked && { "aria-current": "true" }),
    },
    ...cells,
    element("td", { role: "cell", class: "answer" }, answer, ...buttons),
  );
  const [first] = row.because;
  if (first) line.addEventListener("click", () => host.postMessage({ kind: "go", place: first.place }));
  return line;
}

/** Up and down go to the next row that has something to go to. */
function walk(event: KeyboardEvent): void {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step === undefined || !(event.target instanceof HTMLElement)) return;
  const rows = [...document.querySelectorAll<HTMLElement>("tr[data-row]")];
  const here = rows.findIndex((row) => row.contains(event.target as HTMLElement));
  const next = (step > 0 ? rows.slice(here + 1) : rows.slice(0, here).reverse()).find((row) => row.querySelector("button"));
  next?.querySelector("button")!.focus();
  event.preventDefault();
}

function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Readonly<Record<string, string>>,
  ...children: readonly (string | HTMLElement)[]
): HTMLElementTagNameMap[Tag] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}
