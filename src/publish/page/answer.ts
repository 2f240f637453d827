/** What to tie on for what is known: every pick with its answer, why, what it would be otherwise; cautions; the one question. */
import { pageWords } from "../../messages/publish.js";
import { tableWords } from "../../messages/table.js";
import { listed, sayList } from "../../messages/words.js";
import type { Condition, Pick, Places } from "../../model/model.js";
import { explainAnswer } from "../../answer/explain-answer.js";
import { repliesTo } from "../../answer/replies.js";
import { outcomeText } from "../../render/chart.js";
import { explainedIn } from "../../render/explain-text.js";
import { questionOf } from "../../render/json.js";
import { sourceWords } from "../../render/sources.js";
import { closedText } from "../../render/text.js";
import type { Answered, PickAnswered, Possible } from "../../answer/answer.js";

import type { Visit } from "./visit.js";
import { element, type Child } from "./element.js";
import { optionTexts } from "../../model/texts.js";

/** Outcomes that are listed where an answer depends. */
const MOST_POSSIBLE = 4;

export function answerParts(visit: Visit): readonly Child[] {
  const model = visit.model();
  const answered = visit.answered();
  if ("problem" in answered)
    return [element("p", { class: "problem" }, element("strong", {}, `${pageWords.notPossible}: `), answered.problem)];
  const picks = answered.picks.filter(({ pick, shut }) => !model.picks[pick]!.judgement && !shut);
  const away = picks.filter(({ outcome }) => outcome?.status === "not applicable").map(({ pick }) => model.picks[pick]!.label);
  const shown = picks.filter(({ outcome }) => outcome?.status !== "not applicable");
  return [
    Object.keys(answered.given.values).length === 0 && element("p", {}, pageWords.nothingKnown),
    element(
      "div",
      { class: "picks" },
      shown.map((one) => pickPart(visit, answered, one)),
    ),
    away.length > 0 && element("p", { class: "away" }, pageWords.notNow(away)),
    answered.cautions.length > 0 &&
      element(
        "section",
        { class: "mind" },
        element("h3", {}, pageWords.mind),
        element(
          "ul",
          {},
          answered.cautions.map(({ caution, sure }) =>
            element(
              "li",
              {},
              !sure && element("em", {}, `${pageWords.may} `),
              element("strong", {}, `${caution.title}. `),
              caution.say,
              sourceWords(caution.see) !== "" && element("small", {}, ` ${sourceWords(caution.see)}`),
            ),
          ),
        ),
      ),
  ];
}

/** What closes everything for what is known, or may. */
export function closedTexts(visit: Visit): readonly string[] {
  const answered = visit.answered();
  return "problem" in answered ? [] : answered.closed.map((one) => closedText(visit.model(), one));
}

/** The one question that settles most. */
export function questionPart(visit: Visit, chips: (condition: Condition, where: string) => HTMLElement): Child {
  const answered = visit.answered();
  if ("problem" in answered || answered.shut) return undefined;
  const asked = visit.question();
  return asked
    ? element("div", { class: "ask" }, element("h3", {}, pageWords.ask), element("p", {}, questionOf(asked)), chips(asked, "ask"))
    : element("p", { class: "settled" }, pageWords.settled);
}

/** The front of the picks in a line, for the bar at the foot of a small screen. */
export function inShort(visit: Visit): string {
  const answered = visit.answered();
  if ("problem" in answered) return pageWords.notPossible;
  if (answered.shut) return closedTexts(visit)[0]!;
  const first = answered.picks.find(({ pick, outcome }) => !visit.model().picks[pick]!.judgement && outcome?.status !== "not applicable");
  if (!first) return "";
  const pick = visit.model().picks[first.pick]!;
  return `${pick.label}: ${first.outcome ? frontText(pick, first) : first.possible.length > 0 ? mostlyText(visit, pick, first.possible[0]!) : pageWords.undecided}`;
}

/** Why a pick has its answer, in the patterns' own words; where it depends, why the likeliest has it, and what else is possible. */
export function reasonsPart(visit: Visit, { because, possible, pick: index }: PickAnswered): HTMLElement {
  const pick = visit.model().picks[index]!;
  if (possible.length < 2) return reasonList(visit, because);
  const [likeliest, ...others] = possible.slice(0, MOST_POSSIBLE);
  return element(
    "div",
    {},
    reasonList(visit, visit.reasonsOf(index, likeliest!.outcome) ?? []),
    element(
      "p",
      { class: "else" },
      pageWords.orElse(
        others.map(({ outcome, share }) =>
          tableWords.possible(tableWords.outcome(outcome.status, optionTexts(pick, outcome.places)), share),
        ),
        possible.length > MOST_POSSIBLE,
      ),
    ),
  );
}

function reasonList(visit: Visit, because: PickAnswered["because"]): HTMLElement {
  return element(
    "ul",
    { class: "reasons" },
    because.map(({ pattern, text }) =>
      element(
        "li",
        {},
        pattern !== undefined && element("b", {}, visit.model().patterns[pattern]!.title),
        pattern !== undefined && text !== undefined && ". ",
        text,
      ),
    ),
  );
}

function pickPart(visit: Visit, answered: Answered, one: PickAnswered): HTMLElement {
  const pick = visit.model().picks[one.pick]!;
  const { outcome, safe, possible } = one;
  const rest = outcome?.places.slice(1) ?? [];
  const remark = outcome?.status === "toss-up" ? pageWords.tossUp : outcome?.status === "fallback" ? pageWords.fallBack : undefined;
  return element(
    "article",
    { class: "pick" },
    element("h3", {}, pick.label),
    one.undecided
      ? element("p", {}, pageWords.undecided)
      : outcome
        ? element(
            "p",
            { class: "front" },
            element("strong", {}, frontText(pick, one)),
            remark !== undefined && element("small", {}, ` ${remark}`),
            rest.length > 0 && element("span", { class: "then" }, ` ${pageWords.thenTry(texts(pick, rest))}`),
          )
        : element(
            "p",
            { class: "front" },
            ...likeliestParts(visit, pick, possible[0]!),
            safe.length > 0 && element("span", { class: "then" }, `; ${pageWords.safe(texts(pick, safe))}`),
          ),
    !one.undecided && reasonsPart(visit, one),
    otherwisePart(visit, answered, one, pick),
  );
}

function frontText(pick: Pick, { outcome }: PickAnswered): string {
  const front = outcome!.places.slice(0, 1);
  return front.length > 0 ? texts(pick, front) : tableWords.outcome(outcome!.status, []);
}

/** The likeliest of several outcomes, in a line. */
export function mostlyText(visit: Visit, pick: Pick, likeliest: Possible): string {
  return isAway(likeliest) ? notNeeded(likeliest) : pageWords.mostly(outcomeText(visit.model(), pick.index, likeliest.outcome));
}

function likeliestParts(visit: Visit, pick: Pick, likeliest: Possible): readonly Child[] {
  const { share } = likeliest;
  return isAway(likeliest)
    ? [element("strong", {}, notNeeded(likeliest)), element("span", { class: "then" }, ` ${pageWords.likeliestNotNeeded(share)}`)]
    : [
        element("strong", {}, outcomeText(visit.model(), pick.index, likeliest.outcome)),
        element("span", { class: "then" }, ` ${pageWords.likeliest(share)}`),
      ];
}

function isAway({ outcome }: Possible): boolean {
  return outcome.status === "not applicable";
}

function notNeeded({ share }: Possible): string {
  return pageWords.notNeeded(share.mul(2).compare(1) > 0);
}

function texts(pick: Pick, places: Places): string {
  return sayList(optionTexts(pick, places));
}

/** Worked out when it is opened. */
function otherwisePart(visit: Visit, answered: Answered, one: PickAnswered, pick: Pick): HTMLElement {
  const body = element("div", {});
  const open = (): void => {
    if (!details.open || body.childElementCount > 0) return;
    body.append(...otherwise(visit, answered, one, pick));
  };
  const details = element("details", { class: "otherwise", ontoggle: open }, element("summary", {}, pageWords.otherwise), body);
  return details;
}

function otherwise(visit: Visit, answered: Answered, one: PickAnswered, pick: Pick): readonly HTMLElement[] {
  const model = visit.model();
  const { values } = answered.given;
  const { taken, settled } = explainAnswer(model, answered);
  const explained = settled.find(({ pick: name }) => name === pick.name);
  if (explained && Object.keys(taken).length === 0) return explainedIn(explained).map((line) => element("p", {}, line));
  const now = textOf(pick, one);
  const lines = model.conditions.flatMap((condition) => {
    const told = visit.known().get(condition.name);
    if (told === undefined || !(condition.name in values)) return [];
    const found = new Map<string, string[]>();
    for (const { value: reply } of repliesTo(model, condition)) {
      if (reply === told) continue;
      const other = visit.answerFor(new Map(visit.known()).set(condition.name, reply));
      if ("problem" in other) continue;
      const text = textOf(pick, other.picks[one.pick]!);
      if (text !== now) found.set(text, [...(found.get(text) ?? []), reply]);
    }
    return [...found].map(([text, replies]) => element("p", {}, pageWords.ifIt(condition.label, listed(replies, "or"), text)));
  });
  return lines.length > 0 ? lines : [element("p", {}, Object.keys(values).length === 0 ? pageWords.tellFirst : pageWords.nothingElse)];
}

function textOf(pick: Pick, { outcome }: PickAnswered): string {
  return outcome ? tableWords.outcome(outcome.status, optionTexts(pick, outcome.places)) : pageWords.depends;
}
