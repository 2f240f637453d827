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
import { answerParts, closedTexts, inShort, leadIf, questionPart, restPart, toldPart } from "./answer.js";
import type { Shown } from "./contract.js";
import { NOT_KNOWN, type Visit } from "./visit.js";
import { closedLines, element, refill, type Child } from "./element.js";
import { whenReleased } from "./release.js";
import { sharePart } from "./share.js";
import { momentPart } from "./moment.js";

export function counterView(visit: Visit): Shown {
  const model = visit.model();
  const answer = element("section", { class: "answer", id: "answer", tabindex: -1, "aria-labelledby": "answer-heading" });
  const question = element("div", { class: "next" });
  const told = element("div", {});
  const strip = element("div", {});
  const rest = element("div", {});
  const closed = element("div", {});
  answer.append(element("h2", { id: "answer-heading", class: "spoken" }, pageWords.tieOn), strip, closed, told, question, rest);
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
  // Where the answer itself is in view, the bar is not needed.
  new IntersectionObserver(([seen]) => bar.toggleAttribute("hidden", seen!.isIntersecting)).observe(told);
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
        exactFor(visit, condition, "row"),
        problemOf(visit, condition),
      );
    refill(strip, toldPart(visit));
    refill(closed, closedLines(closedTexts(visit)));
    refill(told, ...answerParts(visit));
    refill(rest, restPart(visit));
    // The question takes as long as the answer, so it comes after it.
    clearTimeout(asking);
    asking = setTimeout(() => {
      const hadFocus = question.contains(document.activeElement);
      refill(
        question,
        questionPart(visit, (condition) => [chipsFor(visit, condition, "ask"), exactFor(visit, condition, "ask")]),
      );
      showWhereto(visit, [...question.querySelectorAll<HTMLElement>("[data-reply]")]);
      // Whoever has replied goes on with the next question, or with the answer.
      if (hadFocus && !question.contains(document.activeElement))
        (question.querySelector<HTMLElement>("button, input") ?? answer).focus({ preventScroll: true });
    });
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
      element("div", { class: "told" }, answer),
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
      share.element,
      live,
      bar,
    ),
    update: draw,
  };
}

/** Chips of a condition; "don't know" is one of them. */
function chipsFor(visit: Visit, condition: Condition, where: "row" | "ask"): HTMLElement {
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
      {
        type: "button",
        class: "chip",
        id: `${where}-${name}-${id}`,
        "aria-pressed": on ? "true" : "false",
        ...(where === "ask" && { "data-condition": name, "data-reply": id }),
        onclick: tap,
      },
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
    // A question that is asked is not known.
    where !== "ask" && chip(pageWords.unknown, told === undefined || own === NOT_KNOWN, () => visit.tell(name, undefined), "unknown"),
    repliesTo(visit.model(), condition).map(({ value }) =>
      chip(value === emptySet && domain.kind === "set" ? pageWords.none : value, chosen.has(value), () => toggle(value), value),
    ),
    from !== undefined && element("span", { class: "from" }, `${told!} ${from}`),
  );
}

/** Under each reply what it would lead to: worked out one after the other, so that no tap waits, and no more once another question stands there. */
function showWhereto(visit: Visit, [chip, ...rest]: readonly HTMLElement[]): void {
  setTimeout(() => {
    if (!chip?.isConnected) return;
    const lead = leadIf(visit, chip.dataset["condition"]!, chip.dataset["reply"]!);
    if (lead !== "") chip.append(element("small", {}, lead));
    showWhereto(visit, rest);
  });
}

/** A field for a number, a day or a time. */
function exactFor(visit: Visit, { name, label, domain, index }: Condition, where: "row" | "ask"): Child {
  if (domain.kind === "scale" || domain.kind === "set") return undefined;
  const tellLater =
    (valueOf: (text: string) => string) =>
    ({ target }: Event): void => {
      const text = (target as HTMLInputElement).value.trim();
      whenReleased(() => visit.tell(name, text === "" ? undefined : valueOf(text)));
    };
  const told = visit.state().values.get(name);
  const bands = visit.model().bands.some((band) => band.condition === index && band.name === told);
  const id = where === "row" ? `exact-${name}` : `ask-${name}-exact`;
  if (domain.kind === "times")
    return element(
      "p",
      { class: "exact" },
      element("label", { for: id }, pageWords.exactNumber),
      element("input", { id, type: "time", value: told ?? "", onchange: tellLater((text) => text) }),
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
        onchange: tellLater((text) => text),
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
      onchange: tellLater((text) => (shown ? `${text} ${shown.symbol}` : text)),
    }),
  );
}

function problemOf(visit: Visit, { name }: Condition): Child {
  const problem = visit.given().problems.get(name);
  return problem === undefined ? undefined : element("p", { class: "problem", role: "alert" }, problem);
}
