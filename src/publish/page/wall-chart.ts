/** The wall chart: one pick over the two conditions that settle most, or any two, large enough to read from two metres. */
import { chartWords } from "../../messages/charts.js";
import { beyond, wallChart } from "../chart-data.js";
import { marksOf, type Mark } from "../marks.js";
import { frontText, optionsText, partName, partRange } from "../picture-words.js";
import type { Cell, PicturePart, PictureSide } from "../picture.js";
import type { Pick } from "../../model/model.js";
import { choice, closedLines, drawing, element, refill, type Child } from "./element.js";
import type { Needs, Shown } from "./needs.js";
import { look } from "./picture.js";
import { fit, printButton, sheet } from "./sheet.js";

/** So many patterns are named beside the chart. */
const MOST_BEYOND = 6;

export function wallChartView(needs: Needs): Shown {
  const { model } = needs;
  const form = element("div", { class: "choices no-print" });
  const holder = element("div", { class: "paper", role: "region", tabindex: 0, "aria-label": chartWords.wall });
  const draw = (): void => {
    const named = (key: string) => model.conditions.find(({ name }) => name === needs.chosen(key))?.index;
    const picks = model.picks.filter(({ judgement }) => !judgement);
    const pick = picks.find(({ name }) => name === needs.chosen("pick")) ?? picks[0];
    const source = pick && needs.source(pick.index);
    if (!pick || !source) return refill(holder, element("p", {}, chartWords.undecided));
    const [down, across] = [named("down"), named("across")];
    const both = down !== undefined && across !== undefined && down !== across;
    const chart = wallChart(source, { known: needs.known(), ...(both && { down, across }) });
    const set =
      (key: string) =>
      (value: string): void =>
        drawn.change(() => {
          if (key !== "pick" && value !== "") {
            // One side chosen by hand fixes the other as it stands.
            for (const [other, side] of [
              ["down", chart.down],
              ["across", chart.across],
            ] as const)
              if (other !== key && side) needs.choose(other, model.conditions[side.condition]!.name);
            const taken = key === "down" ? chart.across : chart.down;
            const own = key === "down" ? chart.down : chart.across;
            if (taken && own && model.conditions[taken.condition]!.name === value)
              needs.choose(key === "down" ? "across" : "down", model.conditions[own.condition]!.name);
          } else if (key !== "pick") for (const other of ["down", "across"]) needs.choose(other, undefined);
          needs.choose(key, value === "" ? undefined : value);
        });
    const sides = [{ value: "", text: chartWords.chosenFor }, ...model.conditions.map(({ name, label }) => ({ value: name, text: label }))];
    const nameOf = (side: PictureSide | undefined): string => (both && side ? model.conditions[side.condition]!.name : "");
    refill(
      form,
      choice(
        "wall-pick",
        chartWords.pick,
        picks.map(({ name, label }) => ({ value: name, text: label })),
        pick.name,
        set("pick"),
      ),
      choice("wall-down", chartWords.down, sides, nameOf(chart.down), set("down")),
      choice("wall-across", chartWords.across, sides, nameOf(chart.across), set("across")),
      element("p", { class: "choice" }, printButton("wall-print")),
    );
    const shown = [chart.down, chart.across].flatMap((side) => (side ? [side.condition] : []));
    const said = needs.said().filter(({ label }) => !shown.some((index) => model.conditions[index]!.label === label));
    const open = chart.cells.flat().some(({ fronts }) => fronts.length > 1);
    const patterns = beyond(model, pick.index, shown)
      .slice(0, MOST_BEYOND)
      .map((index) => model.patterns[index]!.title);
    const paper = sheet(
      needs,
      "wall",
      pick.label,
      element("p", {}, said.length > 0 && chartWords.holds(said.map(({ label, value }) => `${label} ${value}`).join(", "))),
      closedLines(needs.silences(pick.index), true),
      !needs.shut(pick.index) && gridOf(needs, chart.down, chart.across, chart.cells, pick),
      !needs.shut(pick.index) &&
        open &&
        element(
          "section",
          { class: "beyond" },
          chart.others.length > 0 &&
            element("p", {}, chartWords.goesByMore(chart.others.slice(0, 4).map((index) => model.conditions[index]!.label))),
          patterns.length > 0 && element("p", {}, element("b", {}, `${chartWords.lookOut}: `), patterns.join(" · ")),
        ),
    );
    refill(holder, paper);
    refit(paper);
  };
  const drawn = drawing(draw);
  draw();
  return {
    element: element(
      "section",
      { class: "wall-view" },
      element("h2", { class: "no-print" }, chartWords.wall),
      element("p", { class: "no-print" }, chartWords.wallIntro),
      form,
      holder,
    ),
    update: drawn.update,
  };
}

/** As soon as it stands in the page. */
export function refit(paper: HTMLElement): void {
  if (paper.isConnected) fit(paper);
  else requestAnimationFrame(() => paper.isConnected && fit(paper));
}

function gridOf(
  needs: Needs,
  down: PictureSide | undefined,
  across: PictureSide | undefined,
  cells: readonly (readonly Cell[])[],
  pick: Pick,
): HTMLElement {
  const { model } = needs;
  const marks = marksOf(pick.options.map(({ text }) => text));
  const head = (side: PictureSide, part: PicturePart, scope: "row" | "col"): HTMLElement => {
    const range = partRange(model, side.condition, part);
    return element("th", { scope }, partName(model, side.condition, part), range !== undefined && element("small", {}, range));
  };
  const label = (side: PictureSide): string => model.conditions[side.condition]!.label;
  return element(
    "table",
    { class: "wall-grid" },
    across &&
      element(
        "thead",
        {},
        element(
          "tr",
          {},
          down && element("td", { class: "corner" }),
          element("th", { scope: "colgroup", colspan: across.parts.length, class: "side" }, label(across)),
        ),
        element(
          "tr",
          {},
          down && element("th", { scope: "col", class: "side" }, label(down)),
          across.parts.map((part) => head(across, part, "col")),
        ),
      ),
    element(
      "tbody",
      {},
      cells.map((row, y) =>
        element(
          "tr",
          {},
          down && head(down, down.parts[y]!, "row"),
          row.map((cell) => element("td", lookFromAfar(cell, marks), ...cellOf(cell, pick))),
        ),
      ),
    ),
  );
}

/** What is so more often than not has its color too, under stripes. */
function lookFromAfar(cell: Cell, marks: readonly Mark[]): Readonly<Record<string, string | number>> {
  const [front, next] = cell.fronts;
  const option = front?.options[0];
  if (!front || !next || option === undefined || front.share.mul(2).compare(1) < 0) return look(cell, marks);
  return { "data-kind": "mostly", "data-hue": marks[option]!.hue };
}

/** What stands in front, large, and under it what comes second or how often it is so. */
function cellOf(cell: Cell, pick: Pick): readonly Child[] {
  const [front, next] = cell.fronts;
  if (cell.undecided) return [chartWords.undecided];
  if (!front) return [element("small", {}, chartWords.cannotBe)];
  if (!next) {
    const second = front.likeliest.outcome.places[1];
    const settled = cell.possible.every(({ outcome }) => String(outcome.places[1]) === String(second));
    return [
      element("b", {}, frontText(pick, front)),
      second && settled && element("small", {}, chartWords.then(optionsText(pick, second))),
    ];
  }
  if (front.share.mul(2).compare(1) < 0)
    return [
      element("span", { class: "open" }, chartWords.itDepends),
      element(
        "small",
        {},
        chartWords.eitherOf(
          cell.fronts.slice(0, 3).map((one) => frontText(pick, one)),
          cell.fronts.length > 3,
        ),
      ),
    ];
  return [
    element("b", {}, frontText(pick, front)),
    element("small", {}, `${chartWords.often(front.share)}, ${chartWords.orElse(frontText(pick, next))}`),
  ];
}
