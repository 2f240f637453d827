/**
 * What is said of a pick where it depends: by first choices, since whoever stands at the counter takes the first, and never one of them in large letters
 * that is not the answer in most of what is possible.
 */
import { frontsOf, type Front } from "../../answer/fronts.js";
import type { PickAnswered, Possible } from "../../answer/answer.js";
import { pageWords } from "../../messages/publish.js";
import { tableWords } from "../../messages/table.js";
import { sayList } from "../../messages/words.js";
import type { Pick, Places } from "../../model/model.js";
import { optionTexts } from "../../model/texts.js";
import type { Outcome } from "../../analysis/outcome.js";
import { element, type Child } from "./element.js";

/** First choices that are listed. */
const MOST_POSSIBLE = 4;

/** The first choice of an answer; of what has none, what it is. */
export function firstText(pick: Pick, { places, status }: Outcome): string {
  return places.length > 0 ? choices(pick, places.slice(0, 1)) : tableWords.outcome(status, []);
}

export function choices(pick: Pick, places: Places): string {
  return sayList(optionTexts(pick, places));
}

/** In a line. */
export function shortText(pick: Pick, { outcome, possible }: PickAnswered): string {
  if (outcome) return firstText(pick, outcome);
  if (possible.length === 0) return pageWords.undecided;
  const most = mostOf(possible);
  if (most === undefined || isAway(most)) return most === undefined ? pageWords.depends : pageWords.notNeeded;
  return pageWords.mostly(nameOf(pick, most));
}

/** The same in two sizes. */
export function likeliestParts(pick: Pick, possible: readonly Possible[]): readonly Child[] {
  const most = mostOf(possible);
  if (most === undefined || isAway(most)) return [element("strong", {}, most === undefined ? pageWords.depends : pageWords.notNeeded)];
  return [element("strong", {}, nameOf(pick, most)), element("span", { class: "then" }, ` ${pageWords.likeliest}`)];
}

/** What else is possible. */
export function elsePart(pick: Pick, possible: readonly Possible[]): Child {
  const fronts = frontsOf(possible);
  if (fronts.length < 2) return undefined;
  const most = mostOf(possible);
  const shown = most === undefined ? fronts : fronts.slice(1);
  return element(
    "p",
    { class: "else" },
    (most === undefined ? pageWords.oneOf : pageWords.orElse)(
      shown.slice(0, MOST_POSSIBLE).map((front) => nameOf(pick, front)),
      shown.length > MOST_POSSIBLE,
    ),
  );
}

/** Shares are for whoever asks. */
export function surePart(pick: Pick, possible: readonly Possible[]): Child {
  const shares = sharesIn(pick, possible);
  return (
    shares.length > 1 &&
    element(
      "details",
      { class: "otherwise" },
      element("summary", {}, pageWords.howSure),
      element("p", {}, pageWords.shares),
      element(
        "ul",
        {},
        shares.map((share) => element("li", {}, share)),
      ),
    )
  );
}

/** Where it depends, on how much of what: another reply may change that, too. */
export function wholeText(pick: Pick, { outcome, possible }: PickAnswered): string {
  if (outcome) return tableWords.outcome(outcome.status, optionTexts(pick, outcome.places));
  return pageWords.dependsOn(sharesIn(pick, possible));
}

/** The likeliest of several first choices, with an outcome that has it; undefined: there are not several. */
export function likeliestOf(pick: Pick, possible: readonly Possible[]): { readonly name: string; readonly outcome: Outcome } | undefined {
  const fronts = frontsOf(possible);
  return fronts.length < 2 ? undefined : { name: nameOf(pick, fronts[0]!), outcome: fronts[0]!.outcomes[0]!.outcome };
}

/** What comes first in more than half of what is possible. */
function mostOf(possible: readonly Possible[]): Front | undefined {
  const [likeliest] = frontsOf(possible);
  return likeliest && likeliest.share.mul(2).compare(1) > 0 ? likeliest : undefined;
}

function isAway({ outcomes }: Front): boolean {
  return outcomes[0]!.outcome.status === "not applicable";
}

function nameOf(pick: Pick, { outcomes }: Front): string {
  return firstText(pick, outcomes[0]!.outcome);
}

function sharesIn(pick: Pick, possible: readonly Possible[]): readonly string[] {
  return frontsOf(possible).map((front) => tableWords.possible(nameOf(pick, front), front.share));
}
