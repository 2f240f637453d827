/**
 * The picture: one pick over two conditions, a chart for each part of a third.
 *
 *     choices      pick, down, across, one for each; kept in the address
 *     chart        a grid of buttons; arrow keys move, Enter or a tap makes the place known and shows why
 *     list         the same in words: stretches of equal cells
 */
import { chartWords } from "../../messages/charts.js";
import type { Condition, Pick } from "../../model/model.js";
import { holds, within } from "../../model/span.js";
import { marksOf, type Mark } from "../marks.js";
import { settlingPair } from "../chart-data.js";
import { cellText, frontText, mergedPart, optionsText, partName, partRange, placeName, tellingText } from "../picture-words.js";
import { pictureOf, rectanglesOf, type Cell, type Frame, type PicturePart, type Picture, type PictureSide } from "../picture.js";
import { choice, closedLines, drawing, element, refill, type Child } from "./element.js";
import type { Needs, Shown } from "./needs.js";

/** How many signs a cell has room for. */
const MOST_SIGNS = 3;

export function pictureView(needs: Needs): Shown {
  const { model } = needs;
  const form = element("div", { class: "choices" });
  const held = element("p", { class: "held" });
  const lines = element("div", {});
  const charts = element("div", { class: "pictures" });
  const why = element("section", { class: "why", "aria-live": "polite" });
  const legend = element("section", { class: "legend" });
  const list = element("details", { class: "as-list" });
  const conditions = model.conditions;
  if (conditions.length < 2) return { element: element("section", {}, element("p", {}, chartWords.needTwo)), update() {} };

  const indexOf = (key: string, names: readonly { readonly name: string; readonly index: number }[]): number | undefined =>
    names.find(({ name }) => name === needs.chosen(key))?.index;
  const pairs = new Map<number, readonly number[]>();
  const settings = () => {
    const picks = model.picks.filter(({ judgement }) => !judgement);
    const pick = model.picks[indexOf("pick", model.picks) ?? picks[0]?.index ?? 0]!;
    const source = needs.source(pick.index);
    if (source && !pairs.has(pick.index)) pairs.set(pick.index, settlingPair(source));
    const order = [...(pairs.get(pick.index) ?? []), ...conditions.map(({ index }) => index)];
    const down = indexOf("down", conditions) ?? order.find((index) => conditions[index]!.name !== needs.chosen("across"))!;
    const given = indexOf("across", conditions);
    const across = given !== undefined && given !== down ? given : order.find((index) => index !== down)!;
    const third = indexOf("by", conditions);
    return { pick, source, down, across, by: third === down || third === across ? undefined : third };
  };

  const draw = (): void => {
    const { pick, source, down, across, by } = settings();
    const named = (but: readonly number[]) =>
      conditions.filter(({ index }) => !but.includes(index)).map(({ name, label }) => ({ value: name, text: label }));
    const set =
      (key: string) =>
      (value: string): void =>
        drawn.change(() => {
          // A side that is taken changes places with the one that wanted it.
          if (key !== "pick" && value === conditions[down]!.name && key === "across") needs.choose("down", conditions[across]!.name);
          if (key !== "pick" && value === conditions[across]!.name && key === "down") needs.choose("across", conditions[down]!.name);
          needs.choose(key, value === "" ? undefined : value);
        });
    refill(
      form,
      choice(
        "picture-pick",
        chartWords.pick,
        model.picks
          .filter(({ judgement, index }) => !judgement || index === pick.index)
          .map(({ name, label }) => ({ value: name, text: label })),
        pick.name,
        set("pick"),
      ),
      choice("picture-down", chartWords.down, named([]), conditions[down]!.name, set("down")),
      choice("picture-across", chartWords.across, named([]), conditions[across]!.name, set("across")),
      choice(
        "picture-by",
        chartWords.by,
        [{ value: "", text: chartWords.noThird }, ...named([down, across])],
        by === undefined ? "" : conditions[by]!.name,
        set("by"),
      ),
    );
    const beside = needs
      .said()
      .filter(({ label }) => ![down, across, by].some((index) => index !== undefined && conditions[index]!.label === label));
    held.textContent =
      beside.length === 0 ? chartWords.nothingHeld : chartWords.held(beside.map(({ label, value }) => `${label} ${value}`).join(", "));
    if (!source) {
      refill(charts, element("p", {}, chartWords.undecided));
      return;
    }
    const picture = pictureOf(source, { down, across, by, known: needs.known() });
    const marks = marksOf(pick.options.map(({ text }) => text));
    const tap = (parts: readonly Told[]): void => {
      drawn.change(() => needs.tell(new Map(parts.map(({ condition, part }) => [condition, tellingText(model, condition, part)]))));
      refill(why, element("h3", {}, chartWords.picked(placeName(model, parts))), needs.why(pick.index));
    };
    refill(lines, closedLines(needs.closed()), closedLines(needs.silences(pick.index), true), needs.mind());
    refill(charts, ...picture.frames.map((frame, at) => chartOf(needs, picture, frame, at, pick, marks, by, tap)));
    refill(legend, ...legendOf(needs, picture, pick, marks));
    const open = list.open;
    refill(
      list,
      element("summary", { id: "picture-list" }, chartWords.asTable),
      ...picture.frames.flatMap((frame) => listOf(needs, picture, frame, pick, by)),
    );
    list.open = open;
  };
  const drawn = drawing(draw);
  draw();
  return {
    element: element(
      "section",
      { class: "picture-view" },
      element("h2", {}, chartWords.picture),
      element("p", {}, chartWords.pictureIntro),
      form,
      held,
      lines,
      charts,
      why,
      legend,
      list,
    ),
    update: drawn.update,
  };
}

interface Told {
  readonly condition: number;
  readonly part: PicturePart;
}

function chartOf(
  needs: Needs,
  picture: Picture,
  frame: Frame,
  at: number,
  pick: Pick,
  marks: readonly Mark[],
  by: number | undefined,
  tap: (parts: readonly Told[]) => void,
): HTMLElement {
  const { model } = needs;
  const { down, across } = picture;
  const keys = frame.cells.map((row) => row.map((cell) => cellText(pick, cell)));
  const told = (y: number, x: number): readonly Told[] => [
    { condition: down.condition, part: down.parts[y]! },
    { condition: across.condition, part: across.parts[x]! },
    ...(frame.part && by !== undefined ? [{ condition: by, part: frame.part }] : []),
  ];
  const id = (y: number, x: number): string => `cell-${at}-${y}-${x}`;
  const button = (cell: Cell, y: number, x: number): HTMLElement => {
    const text = keys[y]![x]!;
    return element(
      "button",
      {
        type: "button",
        id: id(y, x),
        tabindex: y + x === 0 ? 0 : -1,
        title: text,
        onclick: () => tap(told(y, x)),
        onkeydown: (event) => move(event as KeyboardEvent, y, x),
        onfocus: () => rove(y, x),
      },
      element("span", { class: "spoken" }, chartWords.cell(placeName(model, told(y, x)), text)),
      ...signs(cell, pick, marks),
    );
  };
  const rove = (y: number, x: number): void => {
    for (const one of table.querySelectorAll("button")) one.tabIndex = one.id === id(y, x) ? 0 : -1;
  };
  const move = (event: KeyboardEvent, y: number, x: number): void => {
    const [right, bottom] = [across.parts.length - 1, down.parts.length - 1];
    const to = {
      ArrowRight: [y, x + 1],
      ArrowLeft: [y, x - 1],
      ArrowDown: [y + 1, x],
      ArrowUp: [y - 1, x],
      Home: [y, 0],
      End: [y, right],
      PageUp: [0, x],
      PageDown: [bottom, x],
    }[event.key];
    if (!to) return;
    event.preventDefault();
    document.getElementById(id(Math.min(bottom, Math.max(0, to[0]!)), Math.min(right, Math.max(0, to[1]!))))?.focus();
  };
  const differs = (y: number, x: number, key: string): boolean => keys[y]?.[x] !== key;
  const known = needs.known();
  const here = (y: number, x: number): boolean =>
    told(y, x).every(({ condition, part }) => isHere(model.conditions[condition]!, part, known));
  const table = element(
    "table",
    { role: "grid", class: "chart" },
    element(
      "caption",
      {},
      frame.part && by !== undefined
        ? chartWords.frame(model.conditions[by]!.label, partName(model, by, frame.part))
        : chartWords.pictureOf(pick.label, model.conditions[down.condition]!.label, model.conditions[across.condition]!.label),
    ),
    element(
      "thead",
      {},
      element(
        "tr",
        {},
        element("td", { class: "corner" }),
        element("th", { scope: "colgroup", colspan: across.parts.length, class: "side" }, model.conditions[across.condition]!.label),
      ),
      element(
        "tr",
        {},
        element("th", { scope: "col", class: "side" }, model.conditions[down.condition]!.label),
        across.parts.map((part) => head(needs, across, part, "col")),
      ),
    ),
    element(
      "tbody",
      {},
      frame.cells.map((row, y) =>
        element(
          "tr",
          {},
          head(needs, down, down.parts[y]!, "row"),
          row.map((cell, x) =>
            element(
              "td",
              {
                ...look(cell, marks),
                "data-here": here(y, x),
                class:
                  ["top", "right", "bottom", "left"]
                    .filter((_, side) => differs(y + [-1, 0, 1, 0][side]!, x + [0, 1, 0, -1][side]!, keys[y]![x]!))
                    .map((side) => `edge-${side}`)
                    .join(" ") || undefined,
              },
              button(cell, y, x),
            ),
          ),
        ),
      ),
    ),
  );
  return element(
    "div",
    { class: "chart-box", role: "region", tabindex: across.parts.length > 6 ? 0 : undefined, "aria-label": table.caption!.textContent },
    table,
  );
}

function head({ model }: Needs, { condition }: PictureSide, part: PicturePart, scope: "row" | "col"): HTMLElement {
  const range = partRange(model, condition, part);
  return element("th", { scope }, partName(model, condition, part), range !== undefined && element("small", {}, range));
}

/** Attributes that the style sheet colors by. */
export function look(cell: Cell, marks: readonly Mark[]): Readonly<Record<string, string | number>> {
  if (cell.possible.length === 0) return { "data-kind": "cannot" };
  if (cell.fronts.length > 1) return { "data-kind": "depends" };
  const [option] = cell.fronts[0]!.options;
  if (option === undefined) return { "data-kind": "none" };
  return { "data-kind": "one", "data-hue": marks[option]!.hue, "data-hatch": marks[option]!.hatch };
}

function signs(cell: Cell, pick: Pick, marks: readonly Mark[]): readonly Child[] {
  if (cell.possible.length === 0) return [element("span", { class: "sign", "aria-hidden": "true" }, "–")];
  const sign = (options: readonly number[]): string =>
    options.length === 0 ? "·" : options.map((option) => marks[option]!.sign).join("/");
  if (cell.fronts.length === 1)
    return [
      element("span", { class: "sign", "aria-hidden": "true" }, sign(cell.fronts[0]!.options)),
      element("span", { class: "name", "aria-hidden": "true" }, frontText(pick, cell.fronts[0]!)),
    ];
  const shown = cell.fronts.slice(0, MOST_SIGNS).map(({ options }) => sign(options));
  return [element("span", { class: "several", "aria-hidden": "true" }, shown.join(" ") + (cell.fronts.length > MOST_SIGNS ? " …" : ""))];
}

/** Every limit that is known of the condition lies within the part, and something is known. */
function isHere({ axes }: Condition, { boxes }: PicturePart, known: ReadonlyMap<number, readonly number[]>): boolean {
  return (
    axes.some((axis) => known.has(axis)) &&
    boxes.some((box) =>
      axes.every((axis) => {
        const [limit, span] = [box.get(axis), known.get(axis)];
        return !limit || (span !== undefined && (span.length === 2 && span[0] === span[1] ? holds(limit, span[0]!) : within(span, limit)));
      }),
    )
  );
}

function legendOf(needs: Needs, { frames, down, across }: Picture, pick: Pick, marks: readonly Mark[]): readonly Child[] {
  const cells = frames.flatMap(({ cells }) => cells.flat());
  const used = pick.options
    .map((_, option) => option)
    .filter((option) => cells.some(({ fronts }) => fronts.some(({ options }) => options.includes(option))));
  const entry = (attributes: Readonly<Record<string, string | number>>, sign: string, text: string): HTMLElement =>
    element("li", {}, element("span", { class: "swatch", ...attributes }, sign), ` ${text}`);
  const other = (kind: string): boolean => cells.some((cell) => look(cell, marks)["data-kind"] === kind);
  const note = (side: PictureSide): Child =>
    !side.exact &&
    element(
      "p",
      {},
      needs.model.conditions[side.condition]!.domain.kind === "set"
        ? chartWords.partOnly(needs.model.conditions[side.condition]!.label)
        : chartWords.coarse(needs.model.conditions[side.condition]!.label),
    );
  return [
    element("h3", {}, chartWords.legend),
    element(
      "ul",
      { class: "keys" },
      used.map((option) =>
        entry(
          { "data-kind": "one", "data-hue": marks[option]!.hue, "data-hatch": marks[option]!.hatch },
          marks[option]!.sign,
          optionsText(pick, [option]),
        ),
      ),
      other("depends") && entry({ "data-kind": "depends" }, "…", chartWords.legendDepends),
      other("none") && entry({ "data-kind": "none" }, "·", chartWords.legendNone),
      other("cannot") && entry({ "data-kind": "cannot" }, "–", chartWords.legendCannot),
    ),
    note(down),
    note(across),
  ];
}

/** Stretches of equal cells, a line each. */
function listOf(needs: Needs, { down, across }: Picture, frame: Frame, pick: Pick, by: number | undefined): readonly Child[] {
  const { model } = needs;
  const stretches = rectanglesOf(frame.cells, (cell) => cellText(pick, cell));
  const cell = (side: PictureSide, from: number, to: number): string =>
    partName(model, side.condition, mergedPart(side.parts.slice(from, to + 1)));
  return [
    element(
      "table",
      { class: "words" },
      element(
        "caption",
        {},
        frame.part && by !== undefined ? chartWords.frame(model.conditions[by]!.label, partName(model, by, frame.part)) : pick.label,
      ),
      element(
        "thead",
        {},
        element(
          "tr",
          {},
          [model.conditions[down.condition]!.label, model.conditions[across.condition]!.label, pick.label].map((label) =>
            element("th", { scope: "col" }, label),
          ),
        ),
      ),
      element(
        "tbody",
        {},
        stretches.map(({ top, bottom, left, right }) =>
          element(
            "tr",
            {},
            element("td", {}, cell(down, top, bottom)),
            element("td", {}, cell(across, left, right)),
            element("td", {}, cellText(pick, frame.cells[top]![left]!)),
          ),
        ),
      ),
    ),
  ];
}
