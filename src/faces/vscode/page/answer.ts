/**
 * The page that explains an answer. It runs in the webview, where there is a DOM and nothing else.
 *
 *     What to tie on                         What is known
 *       Blade shape   leaf, then teardrop      Water clarity [ muddy     ▾ ]     changed here, the answer follows; a value that does not
 *     Mind                                     Cover  ☑ grass ☐ pads ☐ none      go with the rest says so
 *       Hooks: …                               Water temperature [ 61 °F   ]
 *     Why
 *       Blade shape: leaf, then teardrop
 *         “‹Soft cover wants a leaf›” says …   each title leads to its pattern
 *         ▸ What does not count here (4)       folded
 */
import { extensionWords } from "../../../messages/vscode.js";
import type { AnswerParts, PickPart } from "../../../service/answer-parts.js";
import { element } from "./element.js";
import type { FromAnswer, RememberedAnswer, ToAnswer, Told } from "./messages.js";
import { controlOf } from "./told.js";

declare function acquireVsCodeApi(): {
  postMessage(message: FromAnswer): void;
  setState(state: RememberedAnswer): void;
};

const host = acquireVsCodeApi();
const say = extensionWords.answer;
const main = document.querySelector("main")!;
const uri = main.dataset["book"]!;
const heading = element("h1", {}, say.heading);
const status = element("p", { class: "status", role: "status" });
const first = element("div", { class: "first" });
const rest = element("div", { class: "rest" });
const problem = element("p", { class: "warning", role: "alert", hidden: "" });
const controls = element("div", {});
const known = element(
  "section",
  { class: "known", "aria-label": say.known },
  element("h2", {}, say.known),
  element("p", { class: "note" }, say.knownHint),
  problem,
  controls,
);
main.append(element("header", {}, heading, status), first, known, rest);

let given: Told = {};
/** How often that was changed here: an answer to what was told before would take the last change back. */
let change = 0;
/** What had the focus when the page was made anew. */
let place: string | undefined;
/** Unfolded ones stay so while what is told changes. */
const unfolded = new Set<string>();

window.addEventListener("message", ({ data }: MessageEvent<ToAnswer>) => {
  if (data.kind !== "working" && data.change < change) return;
  main.setAttribute("aria-busy", String(data.kind === "working"));
  if (data.kind === "working") status.textContent = say.working;
  else if (data.kind === "answer") show(data.parts, data.given, data.titles);
  else status.textContent = "";
  if (data.kind !== "working") {
    problem.hidden = data.kind !== "problem";
    problem.textContent = data.kind === "problem" ? data.text : "";
  }
});
document.addEventListener("focusin", ({ target }) => (place = target instanceof HTMLElement ? target.dataset["key"] : undefined));
host.postMessage({ kind: "ready" });

function show(parts: AnswerParts, told: Told, titles: readonly string[]): void {
  const kept = place;
  given = told;
  host.setState({ uri, given });
  heading.textContent = parts.title;
  status.textContent = parts.ask ?? say.done;
  const sentence = linking(titles);
  const [applying, others] = [true, false].map((wanted) => parts.picks.filter(({ applies }) => applies === wanted));
  const part = (heading: string, inside: readonly HTMLElement[]): readonly HTMLElement[] =>
    inside.length === 0 ? [] : [element("h2", {}, heading), ...inside];
  first.replaceChildren(
    ...parts.closed.map((one) => element("p", { class: "warning" }, `⚠ ${one}`)),
    ...part(say.recommended, applying!.length === 0 ? [] : [listOf(applying!)]),
    ...part(
      say.mind,
      parts.cautions.length === 0 ? [] : [element("ul", { class: "mind" }, ...parts.cautions.map((one) => element("li", {}, one)))],
    ),
  );
  rest.replaceChildren(
    ...part(say.why, [
      ...parts.taken.map((one) => element("p", { class: "note" }, one)),
      ...applying!.map((pick) => whyOf(pick, sentence)),
    ]),
    ...(others!.length === 0 ? [] : [folded("others", say.others(others!.length), ...others!.map((pick) => whyOf(pick, sentence)))]),
  );
  const forget = element("button", { type: "button", "data-key": "forget" }, say.forget);
  forget.addEventListener("click", () => tell({}));
  forget.hidden = Object.keys(given).length === 0;
  controls.replaceChildren(
    ...parts.conditions.map((condition) =>
      controlOf(condition, given[condition.condition], (value) => {
        const { [condition.condition]: _, ...rest } = given;
        tell(value === "" ? rest : { ...rest, [condition.condition]: value });
      }),
    ),
    forget,
  );
  if (kept !== undefined) main.querySelector<HTMLElement>(`[data-key="${CSS.escape(kept)}"]`)?.focus({ preventScroll: true });
}

function tell(now: Told): void {
  given = now;
  host.postMessage({ kind: "given", given, change: ++change });
}

function listOf(picks: readonly PickPart[]): HTMLElement {
  return element(
    "dl",
    {},
    ...picks.flatMap(({ label, answer, status, likeliest }) => {
      const told = answerOf(answer, status, "dd");
      if (likeliest !== undefined) told.append(element("small", {}, say.likeliest(likeliest)));
      return [element("dt", {}, label), told];
    }),
  );
}

type Sentence = (text: string) => readonly (string | HTMLElement)[];

function whyOf({ label, answer: words, status: kind, why, aside }: PickPart, sentence: Sentence): HTMLElement {
  const list = (sentences: readonly string[]): HTMLElement =>
    element("ul", {}, ...sentences.map((one) => element("li", {}, ...sentence(one))));
  return element(
    "section",
    {},
    element("h3", {}, `${label}: `, answerOf(words, kind, "span")),
    ...(why.length === 0 ? [] : [list(why)]),
    ...(aside.length === 0 ? [] : [folded(label, say.aside(aside.length), list(aside))]),
  );
}

function answerOf(words: string, kind: string, tag: "dd" | "span"): HTMLElement {
  const sign = extensionWords.table.signs[kind];
  return element(
    tag,
    { class: kind.replaceAll(" ", "-") },
    ...(sign === undefined ? [] : [element("span", { "aria-hidden": "true", class: "sign" }, sign)]),
    words,
  );
}

function folded(key: string, summary: string, ...inside: readonly HTMLElement[]): HTMLElement {
  const made = element("details", {}, element("summary", { "data-key": `fold ${key}` }, summary), ...inside);
  made.open = unfolded.has(key);
  made.addEventListener("toggle", () => {
    if (made.open) unfolded.add(key);
    else unfolded.delete(key);
  });
  return made;
}

/** Titles in a sentence become buttons that lead to their patterns. */
function linking(titles: readonly string[]): Sentence {
  const place = new Map(titles.map((title, at) => [`“${title}”`, at]));
  const quoted = [...place.keys()].sort((a, b) => b.length - a.length).map((title) => title.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  const anyOf = quoted.length === 0 ? undefined : new RegExp(`(${quoted.join("|")})`);
  return (text) =>
    (anyOf === undefined ? [text] : text.split(anyOf)).map((piece) => {
      const at = place.get(piece);
      if (at === undefined) return piece;
      const button = element("button", { type: "button", title: say.go(piece.slice(1, -1)) }, piece);
      button.addEventListener("click", () => host.postMessage({ kind: "go", place: at }));
      return button;
    });
}
