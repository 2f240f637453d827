/** What the pages beside the book are made of. Every text reaches them as plain text. */
export function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Readonly<Record<string, string | undefined>>,
  ...children: readonly (string | HTMLElement)[]
): HTMLElementTagNameMap[Tag] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) if (value !== undefined) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

/** A choice of one; `chosen` is its value. */
export function choice(
  attributes: Readonly<Record<string, string | undefined>>,
  options: readonly { readonly value: string; readonly text: string }[],
  chosen: string,
  change: (value: string) => void,
): HTMLSelectElement {
  const made = element("select", attributes, ...options.map(({ value, text }) => element("option", { value }, text)));
  made.value = chosen;
  made.addEventListener("change", () => change(made.value));
  return made;
}
