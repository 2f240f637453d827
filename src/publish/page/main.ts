/** The page of one book: reads what is packed in it, and shows its views. */
import { answers, type Answers } from "../../analysis/answers.js";
import { pageWords } from "../../messages/publish.js";
import { unpack } from "../pack.js";
import { sayWhetherGood } from "./dates.js";
import { closedTexts, mindPart, reasonsPart } from "./answer.js";
import type { Facts, Needs, PageBook, View } from "./contract.js";
import { counterView } from "./counter.js";
import { dayPlanView } from "./day-plan.js";
import { openVisit, type Visit } from "./visit.js";
import { closedWords, silenceWords } from "../../render/chart.js";
import { element } from "./element.js";
import { codeOf } from "./share.js";
import { writeState } from "./state.js";
import { views } from "./views.js";

const STEPS = 400_000;

function start(): void {
  const [packed, facts] = ["book", "facts"].map((id) => document.getElementById(id)!.textContent);
  const model = unpack(packed!);
  let made: Answers | undefined;
  const book: PageBook = { model, facts: JSON.parse(facts!) as Facts, answers: () => (made ??= answers(model, { steps: STEPS })) };
  const visit = openVisit(book);
  const needs = needsOf(visit);
  const all: readonly View[] = [
    { id: "counter", title: pageWords.counter, make: () => counterView(visit) },
    { id: "plan", title: pageWords.plan, make: () => dayPlanView(visit) },
    ...views,
  ];
  const shown = new Map<string, ReturnType<View["make"]>>();
  const main = document.getElementById("views")!;
  const now = (): View => all.find(({ id }) => id === visit.state().choices.get("view")) ?? all[0]!;
  const tabs = all.map(({ id, title }) =>
    element("button", { type: "button", id: `view-${id}`, onclick: () => visit.choose("view", id === "counter" ? undefined : id) }, title),
  );
  let system = visit.system();
  const units = element(
    "select",
    { id: "units", onchange: () => visit.choose("units", units.value === "book" ? undefined : units.value) },
    Object.entries(pageWords.systems).map(([value, text]) => element("option", { value, selected: value === system }, text)),
  );
  const show = (): void => {
    const { id, make } = now();
    tabs.forEach((tab, at) => tab.setAttribute("aria-current", all[at]!.id === id ? "page" : "false"));
    if (visit.system() !== system) {
      units.value = system = visit.system();
      // A view is made of words, so in other units it is another one.
      shown.clear();
    }
    const known = shown.get(id);
    if (known && main.firstElementChild === known.element) known.update();
    else {
      const view = known ?? make(needs);
      if (known) known.update();
      shown.set(id, view);
      main.replaceChildren(view.element);
      if (!known) view.update();
    }
    document.body.dataset["view"] = id;
    // On a phone not all of them have room.
    const [nav, tab] = [document.getElementById("tabs")!, tabs[all.findIndex((one) => one.id === id)]!];
    nav.scrollLeft = tab.offsetLeft - nav.offsetLeft - (nav.clientWidth - tab.offsetWidth) / 2;
  };
  document.getElementById("tabs")!.replaceChildren(...tabs);
  document.getElementById("unit-choice")!.replaceChildren(element("label", { for: "units" }, pageWords.units), " ", units);
  visit.onChange(show);
  // Whoever shows this page in a frame, beside the book that is being written, finds back to where it was when it has changed.
  if (parent !== window) visit.onChange(() => parent.postMessage({ state: writeState(visit.state()) }, "*"));
  show();
  sayWhetherGood(book.facts, document.getElementById("dated")!);
}

/** What the picture, the table and the sheets ask for. */
function needsOf(visit: Visit): Needs {
  return {
    get model() {
      return visit.model();
    },
    known: () => visit.given().given.box,
    said: () => visit.said(),
    tell: (values) =>
      visit.change(new Map([...values].map(([index, value]) => [visit.model().conditions[index]!.name, value === "" ? undefined : value]))),
    chosen: (key) => visit.state().choices.get(key),
    choose: (key, value) => visit.choose(key, value),
    address: (key, value) => {
      const state = visit.state();
      const choices = new Map(state.choices);
      if (key !== undefined)
        if (value === undefined) choices.delete(key);
        else choices.set(key, value);
      return visit.address({ ...state, choices });
    },
    source: (pick) => visit.source(pick),
    table: (pick) => visit.table(pick),
    why: (pick) => {
      const answered = visit.answered();
      return "problem" in answered ? element("p", { class: "problem" }, answered.problem) : reasonsPart(visit, answered.picks[pick]!);
    },
    closed: () => closedTexts(visit),
    shut: (pick) => {
      const answered = visit.answered();
      return !("problem" in answered) && answered.picks[pick]!.shut === true;
    },
    closedAnywhere: () => closedWords({ ...visit.book.answers(), model: visit.model() }),
    silences: (pick) => silenceWords({ ...visit.book.answers(), model: visit.model() }, [pick]),
    mind: () => {
      const answered = visit.answered();
      return "problem" in answered ? undefined : mindPart(answered.cautions);
    },
    cautions: () => {
      const answered = visit.answered();
      return "problem" in answered ? [] : answered.cautions.map(({ caution, sure }) => ({ title: caution.title, text: caution.say, sure }));
    },
    // Whoever scans a sheet wants an answer, not the sheet.
    code: () => {
      const { values, choices } = visit.state();
      return codeOf(visit.address({ values, choices: new Map([...choices].filter(([key]) => key !== "view")) }));
    },
    today: visit.moment().date ?? visit.book.facts.on,
    draft: visit.book.facts.draft,
  };
}

// After the first paint, so that whoever waits sees what he waits for.
requestAnimationFrame(() => setTimeout(start));
