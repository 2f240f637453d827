/** The views of a published page on a bare page of their own, for the browser tests: a book's text in, everything worked out in the browser. */
import { answers } from "../../../src/analysis/answers.js";
import { budget, withinBudget } from "../../../src/analysis/budget.js";
import { resolve } from "../../../src/model/resolve.js";
import { counterCardView } from "../../../src/publish/page/counter-card.js";
import { element } from "../../../src/publish/page/element.js";
import type { Needs, Shown } from "../../../src/publish/page/needs.js";
import { pictureView } from "../../../src/publish/page/picture.js";
import { tableView } from "../../../src/publish/page/table-view.js";
import { wallChartView } from "../../../src/publish/page/wall-chart.js";
import { parse } from "../../../src/syntax/parse.js";
import { cautionsIn } from "../../../src/answer/cautions.js";
import { compile, type Table } from "../../../src/table/compile.js";
import { readGiven, saidValues, type Given } from "../../../src/answer/given.js";
import { chartedFor } from "../../../src/answer/closed.js";
import { together } from "../../../src/answer/joint.js";
import { closedWords, silenceWords } from "../../../src/render/chart.js";
import { closedText } from "../../../src/render/text.js";
import { answer } from "../../../src/answer/answer.js";

declare const BOOKS: Readonly<Record<string, string>>;
const views: Readonly<Record<string, (needs: Needs) => Shown>> = {
  picture: pictureView,
  table: tableView,
  wall: wallChartView,
  card: counterCardView,
};
const address = new URLSearchParams(location.hash.slice(1));
const root = address.get("book") ?? "blades.lore";
const { model } = resolve(parse(BOOKS[root]!, root), (path) => ({ text: BOOKS[path]! }), { on: "2027-04-15" });
const all = answers(model, { steps: 400_000 });
const fresh = () => budget(400_000);
const values = new Map(
  [...address].flatMap(([key, value]) => {
    const condition = model.conditions.find(({ name }) => name === key);
    return condition ? [[condition.index, value] as const] : [];
  }),
);
const tables = new Map<number, Table | undefined>();

function given(): Given {
  const read = readGiven(
    model,
    [...values].map(([index, text]) => [model.conditions[index]!.name, text] as const),
  );
  if ("problems" in read) throw new Error(read.problems.map(({ problem }) => problem).join(" "));
  return read.given;
}

const needs: Needs = {
  model,
  today: "2027-04-15",
  draft: address.has("draft"),
  known: () => given().box,
  said: () =>
    Object.entries(saidValues(model, given())).map(([name, value]) => ({
      label: model.conditions.find((one) => one.name === name)!.label,
      value: typeof value === "string" ? value : value.join(" and ") || "none",
    })),
  tell: (told) => {
    for (const [index, text] of told) {
      values.set(index, text);
      address.set(model.conditions[index]!.name, text);
    }
    location.hash = address.toString();
  },
  chosen: (key) => address.get(key) ?? undefined,
  choose: (key, value) => {
    if (value === undefined) address.delete(key);
    else address.set(key, value);
    location.hash = address.toString();
  },
  address: (key, value) => {
    const changed = new URLSearchParams(address);
    if (key !== undefined && value !== undefined) changed.set(key, value);
    return `#${changed.toString()}`;
  },
  source: (pick) => {
    const joint = withinBudget(() => together(chartedFor(all, pick), [pick], fresh()));
    return joint && { model, joint, fresh };
  },
  table: (pick) => {
    if (!tables.has(pick)) {
      const compiled = compile(chartedFor(all, pick), { picks: [pick] });
      tables.set(pick, "table" in compiled ? compiled.table : undefined);
    }
    return tables.get(pick);
  },
  why: (pick) => {
    const answered = answer(model, given(), () => all);
    if ("problem" in answered) return element("p", {}, answered.problem);
    return element(
      "ul",
      {},
      answered.picks[pick]!.because.map(({ pattern, text }) =>
        element("li", {}, [pattern === undefined ? "" : model.patterns[pattern]!.title, text ?? ""].join(". ")),
      ),
    );
  },
  closed: () => {
    const answered = answer(model, given(), () => all);
    return "problem" in answered ? [] : answered.closed.map((one) => closedText(model, one));
  },
  closedAnywhere: () => closedWords(all),
  shut: (pick) => {
    const answered = answer(model, given(), () => all);
    return !("problem" in answered) && answered.picks[pick]!.shut === true;
  },
  silences: (pick) => silenceWords(all, [pick]),
  mind: () => undefined,
  cautions: () => cautionsIn(all, given().box).map(({ caution, sure }) => ({ title: caution.title, text: caution.say, sure })),
  code: () => {
    const box = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    box.setAttribute("viewBox", "0 0 1 1");
    box.setAttribute("role", "img");
    box.setAttribute("aria-label", "code");
    const rect = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    for (const [key, value] of Object.entries({ width: "1", height: "1", fill: "#888" })) rect.setAttribute(key, value);
    box.append(rect);
    return box;
  },
};

document.querySelector("main")!.append(views[address.get("view") ?? "picture"]!(needs).element);
