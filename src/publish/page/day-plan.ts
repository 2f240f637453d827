/**
 * The day plan: what to tie on from midnight to midnight, a row wherever the advice changes.
 *
 *     every quarter of an hour ──sun──▶ light, height ──answer──▶ neighbors with one answer are one row
 */
import { pageWords } from "../../messages/publish.js";
import { printTime } from "../../model/calendar.js";
import type { Model } from "../../model/model.js";
import type { Answered } from "../../answer/answer.js";
import { outcomeText } from "../../render/chart.js";
import { filledAt } from "../fill.js";
import { daylightAt, instantOf, sunAt, type Daylight } from "../sky.js";
import { mindPart, reasonsPart } from "./answer.js";
import { shortText } from "./depends.js";
import type { Shown } from "./contract.js";
import type { Visit } from "./visit.js";
import { closedText } from "../../render/text.js";
import { closedLines, element, refill } from "./element.js";
import { momentPart } from "./moment.js";

const STEP = 15;

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly light: Daylight;
  /** Of the sun, degrees: the least and the greatest. */
  readonly heights: readonly [number, number];
  readonly answered: Answered | { readonly problem: string };
  /** Of each pick that is no judgement its answer, then what closes everything. */
  readonly texts: readonly string[];
}

export function dayPlanView(visit: Visit): Shown {
  const body = element("div", { class: "plan" });
  const moment = momentPart(visit);
  const draw = (): void => {
    moment.update();
    const stretches = stretchesOf(visit);
    if (!stretches) return refill(body, element("p", {}, pageWords.planNeeds));
    refill(
      body,
      stretches.length > 0 &&
        stretches.every(({ texts }) => String(texts) === String(stretches[0]!.texts)) &&
        element("p", {}, pageWords.planAllDay),
      element(
        "div",
        { class: "stretches" },
        stretches.map((stretch, at) => part(visit, stretch, stretches[at - 1])),
      ),
    );
  };
  draw();
  if (moment.element instanceof HTMLDetailsElement) moment.element.open = true;
  return {
    element: element(
      "section",
      { class: "plan-view" },
      element("h2", {}, pageWords.plan),
      element("p", {}, pageWords.planIntro),
      moment.element,
      body,
    ),
    update: draw,
  };
}

/** Undefined: no date or no place. */
function stretchesOf(visit: Visit): readonly Stretch[] | undefined {
  const model = visit.model();
  const { date, place, zone } = visit.moment();
  if (date === undefined || !place) return undefined;
  const memo = new Map<string, Pick<Stretch, "answered" | "texts">>();
  const bands = model.conditions.filter(({ filledFrom }) => filledFrom === "sun" || filledFrom === "clock");
  const stretches: Stretch[] = [];
  for (let minute = 0; minute < 1440; minute += STEP) {
    const at = instantOf({ date, minute, zone });
    const values = new Map([...visit.known(), ...filledAt(model, { date, minute, zone, place })]);
    const key = [...values]
      .map(([name, value]) => (bands.some((one) => one.name === name) ? `${name}=${value}` : `${name}:${value}`))
      .join("&");
    const answered =
      memo.get(key) ??
      (() => {
        const one = visit.answerFor(values);
        return {
          answered: one,
          texts:
            "problem" in one
              ? [one.problem]
              : [
                  ...one.picks.filter(({ pick }) => !model.picks[pick]!.judgement).map((pick) => outcomeOf(visit, pick)),
                  ...closedIn(model, one),
                ],
        };
      })();
    memo.set(key, answered);
    const [light, height] = [daylightAt(at, place), sunAt(at, place).height];
    const last = stretches.at(-1);
    if (last?.light === light && String(last.texts) === String(answered.texts))
      stretches[stretches.length - 1] = {
        ...last,
        to: minute + STEP,
        heights: [Math.min(last.heights[0], height), Math.max(last.heights[1], height)],
      };
    else stretches.push({ from: minute, to: minute + STEP, light, heights: [height, height], ...answered });
  }
  return stretches;
}

/** What to mind is said where it changes. */
function sameMind({ cautions }: Answered, before: Stretch["answered"] | undefined): boolean {
  const said = (some: Answered["cautions"]): string => some.map(({ caution, sure }) => `${caution.title} ${sure}`).join("\n");
  return before !== undefined && !("problem" in before) && said(before.cautions) === said(cautions);
}

function closedIn(model: Model, { closed }: Answered): readonly string[] {
  return closed.map((one) => closedText(model, one));
}

function outcomeOf(visit: Visit, one: Answered["picks"][number]): string {
  const model = visit.model();
  return one.outcome ? outcomeText(model, one.pick, one.outcome) : shortText(model.picks[one.pick]!, one);
}

function part(visit: Visit, { from, to, light, heights, answered, texts }: Stretch, before: Stretch | undefined): HTMLElement {
  const model = visit.model();
  const [low, high] = heights.map((height) => height.toFixed(0).replace("-0", "0").replace("-", "−"));
  const head = element(
    "h3",
    {},
    `${printTime(from)}–${to === 1440 ? "24:00" : printTime(to)} `,
    element("span", { class: "light" }, `${pageWords.light[light]}, ${pageWords.sunAt(low!, high!)}`),
  );
  if ("problem" in answered)
    return element("article", { class: `stretch ${light}` }, head, element("p", { class: "problem" }, answered.problem));
  const picks = answered.picks.filter(({ pick }) => !model.picks[pick]!.judgement);
  const changed = picks.filter(
    ({ outcome, shut }, at) => !shut && outcome?.status !== "not applicable" && (!before || before.texts[at] !== texts[at]),
  );
  return element(
    "article",
    { class: `stretch ${light}` },
    head,
    closedLines(closedIn(model, answered)),
    !sameMind(answered, before?.answered) && mindPart(answered.cautions),
    changed.length === 0
      ? !answered.shut && element("p", {}, pageWords.planSame)
      : changed.map((one) =>
          element(
            "div",
            { class: "change" },
            element("p", {}, element("strong", {}, `${model.picks[one.pick]!.label}: `), texts[picks.indexOf(one)]),
            one.because.length > 0 && reasonsPart(visit, one),
          ),
        ),
  );
}
