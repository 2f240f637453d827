/** What to tie on for what is known: every pick with its answer, why, what it would be otherwise; cautions; the one question. */
import { pageWords } from "../../messages/publish.js";
import { listed } from "../../messages/words.js";
import type { Condition, Model, Pick } from "../../model/model.js";
import { explainAnswer } from "../../answer/explain-answer.js";
import { repliesTo } from "../../answer/replies.js";
import { explainedIn } from "../../render/explain-text.js";
import { questionOf } from "../../render/json.js";
import { sourceWords } from "../../render/sources.js";
import { closedText } from "../../render/text.js";
import type { Answered, PickAnswered } from "../../answer/answer.js";

import type { Visit } from "./visit.js";
import { choices, elsePart, firstText, likeliestOf, likeliestParts, shortText, surePart, wholeText } from "./depends.js";
import { element, type Child } from "./element.js";

/** In the order in which it is looked for: the first pick, large, and why; the rest of the rig in a paragraph; what to mind. */
export function answerParts(visit: Visit): readonly Child[] {
  const model = visit.model();
  const answered = visit.answered();
  if ("problem" in answered)
    return [element("p", { class: "problem" }, element("strong", {}, `${pageWords.notPossible}: `), answered.problem)];
  const away = openPicks(model, answered).filter(isAway);
  const [lead, ...rest] = rigOf(model, answered);
  return [
    Object.keys(answered.given.values).length === 0 && element("p", { class: "nothing" }, pageWords.nothingKnown),
    lead && element("div", { class: "picks lead" }, pickPart(visit, lead)),
    rest.length > 0 && rigPart(visit, rest),
    mindPart(answered.cautions),
    away.length > 0 && element("p", { class: "away" }, pageWords.notNow(away.map(({ pick }) => model.picks[pick]!.label))),
  ];
}

/** What is told of: no judgement, and nothing that is closed. */
function openPicks({ picks }: Model, answered: Answered): readonly PickAnswered[] {
  return answered.picks.filter(({ pick, shut }) => !picks[pick]!.judgement && !shut);
}

/** Of these, what applies: the first leads. */
function rigOf(model: Model, answered: Answered): readonly PickAnswered[] {
  return openPicks(model, answered).filter((one) => !isAway(one));
}

function isAway({ outcome }: PickAnswered): boolean {
  return outcome?.status === "not applicable";
}

/** `Weight 3/8 oz · Retrieve slow-roll`, and how many depend. */
function rigPart(visit: Visit, rest: readonly PickAnswered[]): HTMLElement {
  const model = visit.model();
  const settled = rest.filter(({ outcome }) => outcome !== undefined);
  const open = rest.length - settled.length;
  return element(
    "ul",
    { class: "rig" },
    settled.map((one) => {
      const pick = model.picks[one.pick]!;
      return element("li", {}, `${pick.label} `, element("b", {}, firstText(pick, one.outcome!)));
    }),
    open > 0 && element("li", {}, pageWords.moreDepend(open, settled.length > 0)),
  );
}

let restIsOpen = false;

/** Every part of the rig with its reasons: worked out when it is opened, and open still after the next reply. */
export function restPart(visit: Visit): Child {
  const answered = visit.answered();
  if ("problem" in answered) return undefined;
  const picks = rigOf(visit.model(), answered);
  if (picks.length === 0) return undefined;
  const body = element("div", { class: "picks" });
  const fill = (): void => {
    restIsOpen = details.open;
    if (restIsOpen && body.childElementCount === 0) body.append(...picks.map((one) => pickPart(visit, one, answered)));
  };
  const details = element(
    "details",
    { class: "rest", open: restIsOpen, ontoggle: fill },
    element("summary", { id: "rest" }, pageWords.restOf),
    body,
  );
  return details;
}

/** What was told, each to be taken back. */
export function toldPart(visit: Visit): Child {
  const said = visit.said();
  return (
    said.length > 0 &&
    element(
      "ul",
      { class: "strip", "aria-label": pageWords.toldSoFar },
      said.map(({ name, label, value }) =>
        element(
          "li",
          {},
          element(
            "button",
            {
              type: "button",
              id: `told-${name}`,
              "aria-label": pageWords.takeBack(label, value),
              onclick: () => visit.tell(name, undefined),
            },
            `${value} `,
            element("span", { "aria-hidden": "true" }, "×"),
          ),
        ),
      ),
    )
  );
}

/** What is so just now has a line of its own; what always is, or may be, shares one. What to do about it opens. */
export function mindPart(cautions: Answered["cautions"]): Child {
  const isNow = ({ caution, sure }: Answered["cautions"][number]): boolean => sure && caution.when !== undefined;
  const now = cautions.filter(isNow);
  const other = cautions.filter((one) => !isNow(one));
  const text = ({ caution }: Answered["cautions"][number]): readonly Child[] => [
    caution.say,
    sourceWords(caution.see) !== "" && element("small", {}, ` ${sourceWords(caution.see)}`),
  ];
  return (
    cautions.length > 0 &&
    element(
      "section",
      { class: "mind", "aria-label": pageWords.mind },
      now.map((one) =>
        element("details", {}, element("summary", {}, element("strong", {}, one.caution.title)), element("p", {}, ...text(one))),
      ),
      other.length > 0 &&
        element(
          "details",
          {},
          element(
            "summary",
            {},
            pageWords.mindAlso(
              other.map(({ caution }) => caution.title),
              now.length > 0,
            ),
          ),
          other.map((one) =>
            element(
              "p",
              {},
              !one.sure && element("em", {}, `${pageWords.may} `),
              element("strong", {}, `${one.caution.title}. `),
              ...text(one),
            ),
          ),
        ),
    )
  );
}

/** What closes everything for what is known, or may. */
export function closedTexts(visit: Visit): readonly string[] {
  const answered = visit.answered();
  return "problem" in answered ? [] : answered.closed.map((one) => closedText(visit.model(), one));
}

/** The one question that settles most. */
export function questionPart(visit: Visit, replies: (condition: Condition) => readonly Child[]): Child {
  const answered = visit.answered();
  if ("problem" in answered || answered.shut) return undefined;
  const asked = visit.question();
  return asked
    ? element(
        "div",
        { class: "ask" },
        element("h3", { class: "spoken" }, pageWords.ask),
        element("p", {}, questionOf(asked)),
        replies(asked),
      )
    : element("p", { class: "settled" }, pageWords.settled);
}

/** The front of the picks in a line, for the bar at the foot of a small screen. */
export function inShort(visit: Visit): string {
  const answered = visit.answered();
  if ("problem" in answered) return pageWords.notPossible;
  if (answered.shut) return closedTexts(visit)[0]!;
  const lead = leadOf(visit.model(), answered);
  return lead ? `${lead.label}: ${lead.text}` : "";
}

/** What the first pick would be if one more thing were known. */
export function leadIf(visit: Visit, name: string, reply: string): string {
  const answered = visit.answerFor(new Map(visit.known()).set(name, reply));
  return "problem" in answered ? pageWords.notPossible : (leadOf(visit.model(), answered)?.text ?? "");
}

function leadOf(model: Model, answered: Answered): { readonly label: string; readonly text: string } | undefined {
  const [lead] = rigOf(model, answered);
  const pick = lead && model.picks[lead.pick]!;
  return pick && { label: pick.label, text: shortText(pick, lead) };
}

/** Why a pick has its answer, in the patterns' own words; where it depends, why the likeliest has it, and what else is possible. */
export function reasonsPart(visit: Visit, { because, possible, pick: index }: PickAnswered): HTMLElement {
  const pick = visit.model().picks[index]!;
  const likeliest = likeliestOf(pick, possible);
  if (likeliest === undefined) return reasonList(visit, because);
  return element(
    "div",
    {},
    element("p", { class: "else" }, pageWords.whereItIs(likeliest.name)),
    reasonList(visit, visit.reasonsOf(index, likeliest.outcome) ?? []),
    elsePart(pick, possible),
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

/** `answered`: with how sure it is, and what would change it. */
function pickPart(visit: Visit, one: PickAnswered, answered?: Answered): HTMLElement {
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
            element("strong", {}, firstText(pick, outcome)),
            remark !== undefined && element("small", {}, ` ${remark}`),
            rest.length > 0 && element("span", { class: "then" }, ` ${pageWords.thenTry(choices(pick, rest))}`),
          )
        : element(
            "p",
            { class: "front" },
            ...likeliestParts(pick, possible),
            safe.length > 0 && element("span", { class: "then" }, `; ${pageWords.safe(choices(pick, safe))}`),
          ),
    // Where it depends, a reason speaks of what nobody has said: for whoever opens it.
    !one.undecided && (answered || one.outcome ? reasonsPart(visit, one) : elsePart(pick, one.possible)),
    answered && surePart(pick, possible),
    answered && otherwisePart(visit, answered, one, pick),
  );
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
  const now = wholeText(pick, one);
  const lines = model.conditions.flatMap((condition) => {
    const told = visit.known().get(condition.name);
    if (told === undefined || !(condition.name in values)) return [];
    const found = new Map<string, string[]>();
    for (const { value: reply } of repliesTo(model, condition)) {
      if (reply === told) continue;
      const other = visit.answerFor(new Map(visit.known()).set(condition.name, reply));
      if ("problem" in other) continue;
      const text = wholeText(pick, other.picks[one.pick]!);
      if (text !== now) found.set(text, [...(found.get(text) ?? []), reply]);
    }
    return [...found].map(([text, replies]) => element("p", {}, pageWords.ifIt(condition.label, listed(replies, "or"), text)));
  });
  return lines.length > 0 ? lines : [element("p", {}, Object.keys(values).length === 0 ? pageWords.tellFirst : pageWords.nothingElse)];
}
