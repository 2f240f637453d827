/**
 * What was told of one condition, as a control that changes it.
 *
 *     in order clear, muddy      [ muddy ▾ ]              a number, a day       [ 61 °F  ]  its bands are proposed
 *     any of grass, pads         ☑ grass  ☐ pads  ☐ none
 */
import { emptySet } from "../../../model/empty-set.js";
import { extensionWords } from "../../../messages/vscode.js";
import type { ConditionPart } from "../../../service/answer-parts.js";
import { choice, element } from "./element.js";

const say = extensionWords.answer;

/** `change` is called with a value as a customer would give it; empty: it is not known. */
export function controlOf(condition: ConditionPart, given: string | undefined, change: (value: string) => void): HTMLElement {
  return condition.several ? severalOf(condition, given, change) : oneOf(condition, given, change);
}

function oneOf(
  { condition, label, question, replies, typed, filled }: ConditionPart,
  given: string | undefined,
  change: (value: string) => void,
): HTMLElement {
  const key = `told ${condition}`;
  if (typed === undefined) {
    const options = replies.map(({ value, fits }) => ({ value, text: fits || value === given ? value : say.notWith(value) }));
    const own = given === undefined || replies.some(({ value }) => value === given) ? [] : [{ value: given, text: given }];
    const select = choice(
      { "data-key": key, title: question },
      [{ value: "", text: say.unknown }, ...options, ...own],
      given ?? "",
      change,
    );
    for (const [at, { value, fits }] of replies.entries()) select.options[at + 1]!.disabled = !fits && value !== given;
    return element("label", { class: "told" }, label, select);
  }
  const list = `list ${condition}`;
  const input = element("input", {
    type: "text",
    "data-key": key,
    title: `${question} ${typed}`,
    value: given ?? "",
    placeholder: filled ?? say.unknown,
    list,
    autocomplete: "off",
    spellcheck: "false",
  });
  input.addEventListener("change", () => change(input.value.trim()));
  const proposed = replies.filter(({ fits }) => fits).map(({ value, about }) => element("option", { value }, about ?? ""));
  return element("label", { class: "told" }, label, input, element("datalist", { id: list }, ...proposed));
}

function severalOf(
  { condition, label, question, replies }: ConditionPart,
  given: string | undefined,
  change: (value: string) => void,
): HTMLElement {
  const there = new Set(
    (given ?? "")
      .split(/[;,]/)
      .map((value) => value.trim())
      .filter((value) => value !== ""),
  );
  const isNone = (value: string): boolean => value === emptySet && value === replies.at(-1)!.value;
  const boxes = replies.map(({ value, fits }) => {
    const box = element("input", { type: "checkbox", "data-key": `told ${condition} ${value}` });
    box.checked = there.has(value);
    box.disabled = !fits && !box.checked;
    box.addEventListener("change", () => {
      const kept = [...there].filter((one) => one !== value && !isNone(value) && !isNone(one));
      change((box.checked ? [...kept, value] : kept).join(", "));
    });
    return element("label", { class: "member" }, box, fits || box.checked ? value : say.notWith(value));
  });
  return element("fieldset", { class: "told", title: question }, element("legend", {}, label), ...boxes);
}
