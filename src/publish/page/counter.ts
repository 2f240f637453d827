/**
 * The counter: on one side what is known, to be tapped; on the other what follows.
 *
 *     clarity   [don't know] clear stained dirty (muddy)        Blade: round, then teardrop
 *     light     [don't know] dawn daytime (dusk) night            "Dirty water wants thump. Fish that cannot see the bait feel it."
 */
import { pageWords } from "../../messages/publish.js";
import type { Fraction } from "fraction.js";
import { repliesTo } from "../../answer/replies.js";
import { emptySet } from "../../model/empty-set.js";
import type { Condition } from "../../model/model.js";
import { convert, roundedText } from "../../model/quantities.js";
import { numberSaid } from "../../model/reader.js";
import { questionOf } from "../../render/json.js";
import { answerParts, closedTexts, inShort, questionPart } from "./answer.js";
import type { Shown } from "./contract.js";
import { NOT_KNOWN, type Visit } from "./visit.js";
import { closedLines, element, refill, type Child } from "./element.js";
import { sharePart } from "./share.js";
import { momentPart } from "./moment.js";

export function counterView(visit: Visit): Shown {
  const model = visit.model();
  const answer = element("section", { class: "answer", id: "answer", tabindex: -1, "aria-labelledby": "answer-heading" });
  const question = element("div", { class: "next" });
  const told = element("div", {});
  const closed = element("div", {});
  answer.append(element("h2", { id: "answer-heading" }, pageWords.tieOn), closed, question, told);
  let asking: ReturnType<typeof setTimeout> | undefined;
  const live = element("p", { class: "spoken", role: "status" });
  const bar = element("button", {
    type: "button",
    class: "bar",
    onclick: () => {
      answer.focus({ preventScroll: true });
      answer.scrollIntoView({ block: "start" });
    },
  });
  const rows = model.conditions.map((condition) => ({ condition, holder: element("fieldset", { class: "condition" }) }));
  const moment = momentPart(visit);
  const share = sharePart(visit);
  const asks = (condition: Condition): Child =>
    condition.ask === undefined ? undefined : element("p", { class: "question" }, questionOf(condition));
  const draw = (): void => {
    moment.update();
    for (const { condition, holder } of rows)
      refill(
        holder,
        element("legend", {}, condition.label),
        asks(condition),
        chipsFor(visit, condition, "row"),
        exactFor(visit, condition),
        problemOf(visit, condition),
      );
    refill(closed, closedLines(closedTexts(visit)));
    refill(told, ...answerParts(visit));
    // The question takes as long as the answer, so it comes after it.
    clearTimeout(asking);
    asking = setTimeout(() =>
      refill(
        question,
        questionPart(visit, (condition, where) => chipsFor(visit, condition, where)),
      ),
    );
    const short = inShort(visit);
    if (live.textContent !== short) live.textContent = short;
    refill(bar, element("span", {}, short), element("b", {}, pageWords.toAnswer));
    share.update();
  };
  draw();
  return {
    element: element(
      "div",
      { class: "counter" },
      element(
        "section",
        { class: "known", "aria-labelledby": "known-heading" },
        element(
          "div",
          { class: "head" },
          element("h2", { id: "known-heading" }, pageWords.known),
          element("button", { type: "button", id: "clear", onclick: () => visit.clear() }, pageWords.startOver),
        ),
        element("p", {}, pageWords.knownIntro),
        moment.element,
        ...rows.map(({ holder }) => holder),
      ),
      element("div", { class: "told" }, answer, share.element),
      live,
      bar,
    ),
    update: draw,
  };
}

/** Chips of a condition; "don't know" is one of them. */
function chipsFor(visit: Visit, condition: Condition, where: string): HTMLElement {
  const { name, domain } = condition;
  const told = visit.known().get(name);
  const own = visit.state().values.get(name);
  const chosen = new Set(
    (told ?? "")
      .split(/[;,]/)
      .map((part) => part.trim())
      .filter((part) => part !== ""),
  );
  const chip = (text: string, on: boolean, tap: () => void, id: string): HTMLElement =>
    element(
      "button",
      { type: "button", class: "chip", id: `${where}-${name}-${id}`, "aria-pressed": on ? "true" : "false", onclick: tap },
      text,
    );
  const toggle = (member: string): void => {
    if (domain.kind !== "set" || member === emptySet) return visit.tell(name, chosen.has(member) ? undefined : member);
    const next = domain.members.filter((one) => (one === member) !== chosen.has(one));
    visit.tell(name, next.length === 0 ? undefined : next.join(","));
  };
  const from =
    own === undefined && told !== undefined && condition.filledFrom
      ? pageWords.filled(pageWords.filledFrom[condition.filledFrom])
      : undefined;
  return element(
    "div",
    { class: "chips", role: "group", "aria-label": condition.label },
    chip(pageWords.unknown, told === undefined || own === NOT_KNOWN, () => visit.tell(name, undefined), "unknown"),
    repliesTo(visit.model(), condition).map(({ value }) =>
      chip(value === emptySet && domain.kind === "set" ? pageWords.none : value, chosen.has(value), () => toggle(value), value),
    ),
    from !== undefined && element("span", { class: "from" }, `${told!} ${from}`),
  );
}

/** A field for a number, a day or a time. */
function exactFor(visit: Visit, { name, label, domain, index }: Condition): Child {
  if (domain.kind === "scale" || domain.kind === "set") return undefined;
  const told = visit.state().values.get(name);
  const bands = visit.model().bands.some((band) => band.condition === index && band.name === told);
  const id = `exact-${name}`;
  if (domain.kind === "times")
    return element(
      "p",
      { class: "exact" },
      element("label", { for: id }, pageWords.exactNumber),
      element("input", { id, type: "time", value: told ?? "", onchange: (event) => visit.tell(name, valueOf(event) || undefined) }),
    );
  if (domain.kind === "days")
    return element(
      "p",
      { class: "exact" },
      element("label", { for: id }, pageWords.exactNumber),
      element("input", {
        id,
        type: "date",
        value: told !== undefined && /^\d{4}-/.test(told) ? told : "",
        onchange: (event) => visit.tell(name, valueOf(event) || undefined),
      }),
    );
  const { unit } = domain;
  const shown = domain.saidIn ?? unit;
  const value = (told !== undefined && !bands && numberSaid(told, domain)) || "";
  const end = (bound: Fraction): string => roundedText(unit && shown ? convert(bound, unit, shown) : bound);
  return element(
    "p",
    { class: "exact" },
    element("label", { for: id }, shown ? pageWords.exact(shown.symbol) : pageWords.exactNumber),
    element("input", {
      id,
      type: "number",
      inputmode: "decimal",
      step: "any",
      min: end(domain.low),
      max: end(domain.high),
      value,
      "aria-label": `${label}, ${shown?.symbol ?? ""}`,
      onchange: (event) =>
        visit.tell(name, valueOf(event) === "" ? undefined : shown ? `${valueOf(event)} ${shown.symbol}` : valueOf(event)),
    }),
  );
}

function problemOf(visit: Visit, { name }: Condition): Child {
  const problem = visit.given().problems.get(name);
  return problem === undefined ? undefined : element("p", { class: "problem", role: "alert" }, problem);
}

function valueOf(event: Event): string {
  return event.target instanceof HTMLInputElement ? event.target.value.trim() : "";
}
