/**
 * The rows of the table: made once, hidden where they are narrowed away, marked where a pattern decides them.
 *
 *     ▸ clear   grass   leaf  ‹Soft cover wants a leaf›        marked by a sign and an edge, and said to be the current one
 *
 * Of all titles one can be reached by Tab; arrow keys lead from there to the others.
 */
import { tableWords } from "../../../messages/table.js";
import { extensionWords } from "../../../messages/vscode.js";
import { element } from "./element.js";
import type { Shown, ShownRow } from "./messages.js";

const say = extensionWords.table;
const { any } = tableWords;

export interface Rows {
  readonly body: HTMLElement;
  /** Other rows than before. */
  show(table: Pick<Shown, "rows" | "pick">): void;
  add(rows: readonly ShownRow[]): void;
  narrow(fits: (row: ShownRow) => boolean): void;
  /** Marks what a pattern decides from now on, and brings it into sight. */
  mark(title: string | undefined): void;
  counted(): { readonly inSight: number; readonly marked: number; readonly title?: string };
}

interface Line {
  readonly row: ShownRow;
  readonly line: HTMLElement;
  readonly cells: readonly HTMLElement[];
}

export function openRows(go: (place: number) => void): Rows {
  const body = element("tbody", {});
  let lines: Line[] = [];
  let title: string | undefined;
  /** Marked rows are to be brought into sight once they are there. */
  let sought = false;
  body.addEventListener("keydown", walk);
  body.addEventListener("focusin", ({ target }) => {
    if (target instanceof HTMLButtonElement) reachable(target);
  });

  const reachable = (one: HTMLButtonElement | undefined): void => {
    for (const other of body.querySelectorAll<HTMLButtonElement>("button[tabindex='0']")) other.tabIndex = -1;
    if (one) one.tabIndex = 0;
  };
  const isMarked = ({ because }: ShownRow): boolean => title !== undefined && because.some((one) => one.title === title);
  const paint = ({ row, line }: Line): void => {
    const marked = isMarked(row);
    line.classList.toggle("marked", marked);
    if (marked) line.setAttribute("aria-current", "true");
    else line.removeAttribute("aria-current");
    for (const button of line.querySelectorAll("button")) button.classList.toggle("marked", marked && button.textContent === title);
  };
  /** No more than is needed, and nothing where one is already in sight. */
  const seek = (): void => {
    const found = lines.filter(({ row, line }) => !line.hidden && isMarked(row)).map(({ line }) => line);
    if (!sought || found.length === 0) return;
    sought = false;
    const view = body.closest(".content")!.getBoundingClientRect();
    const top = view.top + (body.previousElementSibling?.getBoundingClientRect().height ?? 0);
    const isInSight = (line: HTMLElement): boolean => {
      const { top: from, bottom: to } = line.getBoundingClientRect();
      return from >= top && to <= view.bottom;
    };
    if (!found.some(isInSight)) found[0]!.scrollIntoView({ block: "center" });
  };

  const rows: Rows = {
    body,
    show: (table) => {
      body.replaceChildren();
      lines = [];
      rows.add(table.rows);
    },
    add: (more) => {
      const made = more.map((row, at) => lineOf(row, lines.length + at, go));
      made.forEach(paint);
      lines.push(...made);
      body.append(...made.map(({ line }) => line));
    },
    narrow: (fits) => {
      let above: ShownRow | undefined;
      for (const { row, line, cells } of lines) {
        line.hidden = !fits(row);
        if (line.hidden) continue;
        // A cell that repeats the one above, as do all before it, or in which anything will do, is printed faintly.
        let repeats = above !== undefined;
        row.when.forEach((words, column) => {
          repeats &&= words === above!.when[column];
          cells[column]!.className = words === any ? "any" : repeats ? "same" : "";
        });
        above = row;
      }
      if (!body.querySelector("tr:not([hidden]) button[tabindex='0']"))
        reachable(body.querySelector<HTMLButtonElement>("tr:not([hidden]) button") ?? undefined);
      seek();
    },
    mark: (now) => {
      if (now === title) return;
      [title, sought] = [now, true];
      lines.forEach(paint);
      seek();
    },
    counted: () => {
      const inSight = lines.filter(({ line }) => !line.hidden);
      return { inSight: inSight.length, marked: inSight.filter(({ row }) => isMarked(row)).length, ...(title !== undefined && { title }) };
    },
  };
  return rows;
}

function lineOf(row: ShownRow, at: number, go: (place: number) => void): Line {
  const cells = row.when.map((words) => element("td", {}, words));
  const sign = say.signs[row.status];
  const answer = element(
    "div",
    { class: `answer ${row.status.replaceAll(" ", "-")}` },
    ...(sign === undefined ? [] : [element("span", { "aria-hidden": "true", class: "sign" }, sign)]),
    row.answer,
  );
  const buttons = row.because.map(({ title, place }, nth) => {
    const button = element("button", { type: "button", title: say.go(title), tabindex: "-1", "data-key": `${at}/${nth}` }, title);
    button.addEventListener("click", (event) => {
      event.stopPropagation();
      go(place);
    });
    return button;
  });
  const line = element(
    "tr",
    { ...(row.because.length > 0 && { class: "goes" }) },
    ...cells,
    element("td", { class: "answer" }, answer, ...buttons),
  );
  const [first] = row.because;
  if (first) line.addEventListener("click", () => go(first.place));
  return { row, line, cells };
}

/** Up and down go to the next row that has something to go to, left and right within one, Home and End to the first and the last. */
function walk(event: KeyboardEvent): void {
  const body = event.currentTarget as HTMLElement;
  const here = event.target instanceof HTMLElement ? event.target.closest("tr") : null;
  if (here === null) return;
  const lines = [...body.querySelectorAll<HTMLElement>("tr:not([hidden])")].filter((line) => line.querySelector("button"));
  const at = lines.indexOf(here);
  const own = [...here.querySelectorAll("button")];
  const nth = own.indexOf(event.target as HTMLButtonElement);
  const next: Readonly<Record<string, HTMLElement | null | undefined>> = {
    ArrowDown: lines[at + 1]?.querySelector("button"),
    ArrowUp: lines[at - 1]?.querySelector("button"),
    ArrowRight: own[nth + 1],
    ArrowLeft: own[nth - 1],
    Home: lines[0]?.querySelector("button"),
    End: lines.at(-1)?.querySelector("button"),
  };
  if (!(event.key in next)) return;
  next[event.key]?.focus();
  event.preventDefault();
}
