/** The counter card: this water, this week, and three choices. */
import { chartWords } from "../../messages/charts.js";
import { questionOf } from "../../render/json.js";
import { counterCard, type Choice } from "../chart-data.js";
import { frontText, optionsText, partName } from "../picture-words.js";
import type { Pick } from "../../model/model.js";
import { choice, closedLines, drawing, element, refill, type Child } from "./element.js";
import { marksOf } from "../marks.js";
import type { Needs, Shown } from "./needs.js";
import { printButton, sheet } from "./sheet.js";
import { refit } from "./wall-chart.js";

export function counterCardView(needs: Needs): Shown {
  const { model } = needs;
  const form = element("div", { class: "choices no-print" });
  const holder = element("div", { class: "paper", role: "region", tabindex: 0, "aria-label": chartWords.card });
  const draw = (): void => {
    const picks = model.picks.filter(({ judgement }) => !judgement);
    const pick = picks.find(({ name }) => name === needs.chosen("pick")) ?? picks[0];
    const source = pick && needs.source(pick.index);
    if (!pick || !source) return refill(holder, element("p", {}, chartWords.undecided));
    refill(
      form,
      choice(
        "card-pick",
        chartWords.pick,
        picks.map(({ name, label }) => ({ value: name, text: label })),
        pick.name,
        (name) => drawn.change(() => needs.choose("pick", name)),
      ),
      element("p", { class: "choice" }, printButton("card-print")),
    );
    const { question, choices, more } = counterCard(source, needs.known());
    const said = needs.said();
    const paper = sheet(
      needs,
      "card",
      pick.label,
      element("p", {}, chartWords.week(...weekOf(needs.today))),
      element(
        "p",
        { class: "water" },
        said.length === 0 ? chartWords.nothingKnown : said.map(({ label, value }) => `${label}: ${value}`).join(" · "),
      ),
      closedLines(needs.silences(pick.index), true),
      question !== undefined && element("p", { class: "asked" }, questionOf(model.conditions[question]!)),
      !needs.shut(pick.index) &&
        element(
          "ol",
          { class: "three" },
          choices.map((one, at) => choiceOf(needs, one, at, pick, question)),
        ),
      more > 0 && element("p", {}, chartWords.askUs(more)),
    );
    refill(holder, paper);
    refit(paper);
  };
  const drawn = drawing(draw);
  draw();
  return {
    element: element(
      "section",
      { class: "card-view" },
      element("h2", { class: "no-print" }, chartWords.card),
      element("p", { class: "no-print" }, chartWords.cardIntro),
      form,
      holder,
    ),
    update: drawn.update,
  };
}

function choiceOf({ model }: Needs, { parts, options, front, sure }: Choice, at: number, pick: Pick, question: number | undefined): Child {
  const lead =
    question === undefined
      ? chartWords.firstChoices[at]!
      : chartWords.asNamed(model.conditions[question]!.label, parts.map((part) => partName(model, question, part)).join("; "));
  const mark = options[0] === undefined ? undefined : marksOf(pick.options.map(({ text }) => text))[options[0]]!;
  const second = question === undefined || !sure ? undefined : front.likeliest.outcome.places[1];
  // "Does not apply, most often" is no advice.
  const isOpen = !sure && front.status === "not applicable";
  return element(
    "li",
    mark ? { "data-kind": "one", "data-hue": mark.hue, "data-hatch": mark.hatch } : { "data-kind": "none" },
    element("span", { class: "lead" }, lead),
    element("b", {}, options.length > 0 ? optionsText(pick, options) : isOpen ? chartWords.notNeeded : frontText(pick, front)),
    second
      ? element("small", {}, chartWords.then(optionsText(pick, second)))
      : !sure && element("small", {}, isOpen ? chartWords.notNeededDepends : chartWords.likeliest),
  );
}

/** The first and last of seven days from `2027-04-15` on: "April 15", "April 21, 2027". */
function weekOf(day: string): readonly [from: string, to: string] {
  const end = new Date(`${day}T12:00:00Z`);
  end.setUTCDate(end.getUTCDate() + 6);
  const said = (date: Date, year: boolean): string =>
    date.toLocaleDateString("en-US", { month: "long", day: "numeric", timeZone: "UTC", ...(year && { year: "numeric" }) });
  return [said(new Date(`${day}T12:00:00Z`), false), said(end, true)];
}
