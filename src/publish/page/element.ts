/** Elements in one line each; no text is ever read as markup. */

type Props = Readonly<Record<string, string | number | boolean | undefined | ((event: Event) => void)>>;
export type Child = Node | string | undefined | false;

/** `on…` functions become listeners, `true` an empty attribute; `false` and undefined leave an attribute out. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  props: Props = {},
  ...children: readonly (Child | readonly Child[])[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(props)) {
    if (typeof value === "function") made.addEventListener(key.slice(2), value);
    else if (value !== undefined && value !== false) made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...children.flat().filter((child): child is Node | string => child !== undefined && child !== false));
  return made;
}

/** New content in place of the old; what had the focus has it again, if it has an `id` and is still there. */
export function refill(holder: HTMLElement, ...children: readonly Child[]): void {
  const focused = holder.contains(document.activeElement) ? document.activeElement!.id : "";
  holder.replaceChildren(...children.filter((child): child is Node | string => child !== undefined && child !== false));
  if (focused !== "") document.getElementById(focused)?.focus({ preventScroll: true });
}

/** What closes everything, large, above all else; nothing where nothing does. `quiet`: on some picks only. */
export function closedLines(lines: readonly string[], quiet = false): HTMLElement | undefined {
  return lines.length === 0
    ? undefined
    : element(
        "div",
        { class: quiet ? "silence" : "closed" },
        lines.map((line) => element("p", {}, line)),
      );
}

/** A labelled choice. `id` must be its own on the page. */
export function choice(
  id: string,
  label: string,
  options: readonly { readonly value: string; readonly text: string }[],
  chosen: string,
  changed: (value: string) => void,
): HTMLElement {
  const select = element(
    "select",
    { id, onchange: () => changed(select.value) },
    options.map(({ value, text }) => element("option", { value, selected: value === chosen }, text)),
  );
  return element("p", { class: "choice" }, element("label", { for: id }, label), select);
}

/** Draws once after several changes, though the page asks for an update after each. */
export function drawing(draw: () => void): { update(): void; change(work: () => void): void } {
  let isChanging = false;
  return {
    update: () => {
      if (!isChanging) draw();
    },
    change: (work) => {
      isChanging = true;
      work();
      isChanging = false;
      draw();
    },
  };
}
