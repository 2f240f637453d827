/**
 * The table: every row of one pick, narrowed by values and by words, each with an address of its own.
 *
 *     #…row=k3x9f2   the row with that sign, which depends on what the row says and not on where it stands
 */
import { chartWords } from "../../messages/charts.js";
import { tableWords } from "../../messages/table.js";
import type { Model } from "../../model/model.js";
import type { Row, Table } from "../../table/compile.js";
import { facetsOf, type Facet } from "../../render/facet.js";
import { fits, limitsOf, type Limit } from "../../render/limits.js";
import { sourceWords } from "../../render/sources.js";
import type { Legend } from "../../render/words.js";
import { marksOf } from "../marks.js";
import { choice, closedLines, drawing, element, refill, type Child } from "./element.js";
import type { Needs, Shown } from "./needs.js";
import { optionTexts } from "../../model/texts.js";

export function tableView(needs: Needs): Shown {
  const { model } = needs;
  const form = element("div", { class: "choices" });
  const count = element("p", { class: "count", "aria-live": "polite" });
  const rows = element("div", { class: "rows" });
  let search = "";
  let limits: ReadonlyMap<string, Limit> = new Map();
  const pickNow = () =>
    model.picks.find(({ name }) => name === needs.chosen("pick")) ?? model.picks.find(({ judgement }) => !judgement) ?? model.picks[0];

  const draw = (): void => {
    const pick = pickNow();
    const table = pick && needs.table(pick.index);
    if (!pick || !table) return refill(rows, element("p", {}, chartWords.undecided));
    refill(
      form,
      choice(
        "table-pick",
        chartWords.pick,
        model.picks.map(({ name, label, judgement }) => ({ value: name, text: judgement ? tableWords.judged(label) : label })),
        pick.name,
        (name) =>
          drawn.change(() => {
            limits = new Map();
            needs.choose("row", undefined);
            needs.choose("pick", name);
          }),
      ),
      ...facetsOf(table).map(({ name, label }) => {
        const all = limitsOf({ ...table, model }, name);
        const now = limits.get(name);
        return choice(
          `table-by-${name}`,
          label,
          [{ value: "", text: chartWords.anyValue }, ...all.map(({ text }) => ({ value: text, text }))],
          now?.text ?? "",
          (value) => {
            const found = all.find(({ text }) => text === value);
            limits = new Map([...limits].filter(([at]) => at !== name).concat(found ? [[name, found]] : []));
            draw();
          },
        );
      }),
      searchBox(search, (text) => {
        search = text;
        show(pick.index, table);
      }),
      element(
        "p",
        { class: "choice" },
        element(
          "button",
          {
            type: "button",
            id: "table-clear",
            onclick: () => {
              [limits, search] = [new Map(), ""];
              draw();
            },
          },
          chartWords.clear,
        ),
      ),
    );
    show(pick.index, table);
  };
  const show = (pick: number, table: Table): void => {
    const legend: Legend = new Set();
    const facets = facetsOf({ ...table, model });
    const lines = table.rows.map((row, at) => lineOf(needs, table, facets, row, at, pick, legend));
    const wanted = search
      .toLowerCase()
      .split(/\s+/)
      .filter((word) => word !== "");
    const shown = lines.filter(
      ({ row, text }) => [...limits.values()].every((limit) => fits(row, limit)) && wanted.every((word) => text.includes(word)),
    );
    count.textContent = shown.length === 0 ? chartWords.nothingFits : chartWords.showing(shown.length, lines.length);
    refill(
      rows,
      closedLines(needs.closedAnywhere()),
      closedLines(needs.silences(pick), true),
      needs.mind(),
      shown.length > 0 &&
        tableOf(
          model,
          facets,
          pick,
          shown.map(({ line }) => line),
        ),
    );
    const linked = needs.chosen("row");
    for (const line of rows.querySelectorAll<HTMLElement>("tr[id]")) line.toggleAttribute("data-linked", line.id === `row-${linked}`);
  };
  const drawn = drawing(draw);
  draw();
  const made = element(
    "section",
    { class: "table-view" },
    element("h2", {}, chartWords.table),
    element("p", {}, chartWords.tableIntro),
    form,
    count,
    rows,
  );
  const linked = needs.chosen("row");
  // Only once the page has it.
  if (linked !== undefined) requestAnimationFrame(() => document.getElementById(`row-${linked}`)?.scrollIntoView({ block: "center" }));
  return { element: made, update: drawn.update };
}

interface Line {
  readonly row: Row;
  /** All its words, small, to search in. */
  readonly text: string;
  readonly line: HTMLElement;
}

function lineOf(needs: Needs, table: Table, facets: readonly Facet[], row: Row, at: number, pick: number, legend: Legend): Line {
  const { model } = needs;
  const outcome = row.outcomes[table.picks.indexOf(pick)]!;
  const about = model.picks[pick]!;
  const cells = facets.map(({ words }) => words(row.box, legend));
  // The same in all units.
  const written = facetsOf(table).map(({ name, words }) => `${name}=${words(row.box, new Set())}`);
  const answer =
    outcome.status === "no advice"
      ? tableWords.noAdvice(row.silence)
      : tableWords.outcome(outcome.status, optionTexts(about, outcome.places));
  const option = outcome.places[0]?.[0];
  const mark = option === undefined ? undefined : marksOf(about.options.map(({ text }) => text))[option]!;
  const patterns = row.because.map((index) => model.patterns[index]!);
  const sign = signOf([about.name, ...written].join("|"));
  const label = (text: string, name: string, ...children: readonly Child[]): HTMLElement =>
    element(
      "td",
      { role: "cell", class: name },
      element("span", { class: "label", "aria-hidden": "true" }, text),
      element("div", {}, ...children),
    );
  const line = element(
    "tr",
    { id: `row-${sign}`, role: "row" },
    element(
      "th",
      { scope: "row", role: "rowheader", class: "number" },
      element(
        "a",
        { href: needs.address("row", sign), "aria-label": chartWords.linkTo(at + 1), onclick: () => needs.choose("row", sign) },
        String(at + 1),
      ),
    ),
    cells.map((text, i) => label(facets[i]!.label, text === tableWords.any ? "any" : "value", text)),
    label(
      about.label,
      "answer",
      mark &&
        element(
          "span",
          { class: "swatch", "data-kind": "one", "data-hue": mark.hue, "data-hatch": mark.hatch, "aria-hidden": "true" },
          mark.sign,
        ),
      ` ${answer}`,
    ),
    label(
      chartWords.because,
      "reasons",
      patterns.length === 0
        ? element("p", {}, outcome.status === "no advice" ? row.silence.join(" ") : (about.fallBack?.because ?? chartWords.noPattern))
        : element(
            "ul",
            {},
            patterns.map(({ title, because, see }) =>
              element(
                "li",
                {},
                element("b", {}, title),
                because !== undefined && element("span", {}, ` ${because}`),
                sourceWords(see) !== "" && element("small", {}, ` ${sourceWords(see)}`),
              ),
            ),
          ),
    ),
  );
  return {
    row,
    line,
    text: [...cells, answer, ...patterns.flatMap(({ title, because }) => [title, because ?? ""])].join(" ").toLowerCase(),
  };
}

function tableOf(model: Model, facets: readonly Facet[], pick: number, lines: readonly HTMLElement[]): HTMLElement {
  const heads = [...facets.map(({ label }) => label), model.picks[pick]!.label, chartWords.because];
  return element(
    "table",
    { role: "table", class: "row-table" },
    element("caption", {}, model.picks[pick]!.label),
    element(
      "thead",
      { role: "rowgroup" },
      element(
        "tr",
        { role: "row" },
        element("th", { scope: "col", role: "columnheader" }, "#"),
        heads.map((text) => element("th", { scope: "col", role: "columnheader" }, text)),
      ),
    ),
    element("tbody", { role: "rowgroup" }, lines),
  );
}

function searchBox(text: string, changed: (text: string) => void): HTMLElement {
  const input = element("input", { type: "search", id: "table-search", value: text, oninput: () => changed(input.value) });
  return element("p", { class: "choice" }, element("label", { for: "table-search" }, chartWords.search), input);
}

/** A short sign of a text (FNV-1a, 32 bits: Fowler, Noll and Vo). */
function signOf(text: string): string {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash.toString(36);
}
