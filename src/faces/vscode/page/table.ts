/**
 * The page that shows the table beside the book. It runs in the webview, where there is a DOM and nothing else.
 *
 *     Blades for Alder Pond
 *     Pick [ Blade shape ▾ ]  Find [ grass     ]  (Show all rows)
 *     3 of 12 rows. 1 of them from “Soft cover wants a leaf”.
 *     ┌ Water clarity │ Cover   │ Blade shape, and what decided it ┐      stays in sight
 *     │ [ muddy   ▾ ] │ [any ▾] │ [ any ▾ ]                        │
 *     ├ clear         │ grass   │ leaf                             ┤
 *     │▸              │         │ ‹Soft cover wants a leaf›        │      each title a button; a click anywhere in the row does the same
 *     │ muddy         │ any     │ ○ nothing                        │      what is no answer has a sign and words, not only a color
 *
 * It is the table of the pick that the cursor in the book is at; rows that the pattern there decides are marked.
 */
import { extensionWords } from "../../../messages/vscode.js";
import { choice, element } from "./element.js";
import { narrowing } from "./filters.js";
import type { Filters, FromPage, Remembered, Shown, ShownColumn, ToPage } from "./messages.js";
import { openRows } from "./rows.js";

declare function acquireVsCodeApi(): {
  postMessage(message: FromPage): void;
  getState(): Remembered | undefined;
  setState(state: Remembered): void;
};

const host = acquireVsCodeApi();
const say = extensionWords.table;
const main = document.querySelector("main")!;
const uri = main.dataset["book"]!;
const heading = element("h1", {}, say.heading);
const tools = element("div", { class: "tools" });
const status = element("p", { class: "status", role: "status" });
const content = element("div", { class: "content" });
main.append(element("header", {}, heading, tools, status), content);

let shown: Shown | undefined;
let filters: Filters = host.getState()?.filters ?? { values: {}, text: "" };
/** What had the focus when the table was made anew. */
let place: string | undefined;
const rows = openRows((at) => host.postMessage({ kind: "go", place: at }));

window.addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
  if (data.kind === "mark") {
    rows.mark(data.title);
    return tell();
  }
  main.setAttribute("aria-busy", String(data.kind === "working"));
  if (data.kind === "working") status.textContent = shown === undefined ? say.working : say.behind;
  else if (data.kind === "rows") {
    rows.add(data.rows);
    narrow();
  } else if (data.kind === "table") show(data.table);
  else {
    shown = undefined;
    status.textContent = "";
    tools.replaceChildren();
    content.replaceChildren(element("p", { class: "nothing" }, data.text));
  }
});
document.addEventListener("focusin", ({ target }) => (place = target instanceof HTMLElement ? target.dataset["key"] : undefined));
host.postMessage({ kind: "ready" });

/** Whoever was on a row, in a filter or in the choice of picks stays there. */
function show(table: Shown): void {
  const kept = place;
  const [top, left] = shown?.pick === table.pick ? [content.scrollTop, content.scrollLeft] : [0, 0];
  shown = table;
  heading.textContent = table.title;
  const find = element("input", { type: "search", "data-key": "find", placeholder: say.findHint, value: filters.text });
  find.addEventListener("input", () => narrowBy({ ...filters, text: find.value }));
  const clear = element("button", { type: "button", class: "clear", "data-key": "clear" }, say.clear);
  clear.addEventListener("click", () => {
    narrowBy({ values: {}, text: "" });
    show(shown!);
    content.focus();
  });
  tools.replaceChildren(
    element(
      "label",
      {},
      `${say.of} `,
      choice(
        { "data-key": "pick" },
        table.picks.map(({ name, label }) => ({ value: name, text: label })),
        table.pick,
        (name) => host.postMessage({ kind: "pick", name }),
      ),
    ),
    element("label", {}, `${say.find} `, find),
    clear,
  );
  rows.show(table);
  content.replaceChildren(
    ...(table.warning === undefined ? [] : [element("p", { class: "warning" }, `⚠ ${table.warning}`)]),
    ...table.closed.map((line) => element("p", { class: "closed" }, line)),
    element("table", {}, headOf(table), rows.body),
    element("p", { class: "note" }, say.keys),
    ...table.notes.map((note) => element("p", { class: "note" }, note)),
    ...(table.cautions.length === 0
      ? []
      : [element("h2", {}, say.mind), element("ul", {}, ...table.cautions.map((caution) => element("li", {}, caution)))]),
  );
  content.tabIndex = 0;
  content.setAttribute("role", "region");
  content.setAttribute("aria-label", table.title);
  narrow();
  content.scrollTo(left, top);
  if (kept !== undefined) main.querySelector<HTMLElement>(`[data-key="${CSS.escape(kept)}"]`)?.focus({ preventScroll: true });
}

function headOf({ columns, answer }: Shown): HTMLElement {
  const all = [...columns, answer];
  const label = (column: ShownColumn): string => (column === answer ? say.decided(column.label) : column.label);
  const filter = (column: ShownColumn): readonly HTMLElement[] =>
    column.values.length === 0
      ? []
      : [
          choice(
            { "aria-label": say.narrow(column.label), "data-key": `by ${column.name}` },
            [{ value: "", text: say.any }, ...column.values.map((value) => ({ value, text: value }))],
            column.values.includes(filters.values[column.name] ?? "") ? filters.values[column.name]! : "",
            (value) =>
              narrowBy({
                ...filters,
                values: Object.fromEntries([
                  ...Object.entries(filters.values).filter(([name]) => name !== column.name),
                  ...(value === "" ? [] : [[column.name, value]]),
                ]),
              }),
          ),
        ];
  return element(
    "thead",
    {},
    element(
      "tr",
      {},
      ...all.map((column) => element("th", { scope: "col", ...(column === answer && { class: "answer" }) }, label(column))),
    ),
    element(
      "tr",
      { class: "filters" },
      ...all.map((column) => element("td", { ...(column === answer && { class: "answer" }) }, ...filter(column))),
    ),
  );
}

function narrowBy(now: Filters): void {
  filters = now;
  narrow();
}

function narrow(): void {
  if (shown === undefined) return;
  const { count, fits } = narrowing(shown, filters);
  rows.narrow(fits);
  for (const select of content.querySelectorAll<HTMLSelectElement>("thead select")) select.classList.toggle("chosen", select.value !== "");
  tools.querySelector<HTMLElement>(".clear")!.hidden = count === 0;
  host.setState({ uri, pick: shown.pick, filters });
  tell();
}

function tell(): void {
  if (shown === undefined || main.getAttribute("aria-busy") === "true") return;
  const { inSight, marked, title } = rows.counted();
  status.textContent = [say.rows(inSight, shown.total), ...(title === undefined ? [] : [say.marked(marked, title)])].join(" ");
}
