/** Names for what is new in a book, and the place where it is declared. */
import type { Edit } from "../../diagnostics.js";
import { formOfName } from "../../messages/fixes.js";
import type { View } from "../view.js";
import { addBelow, insert } from "./edits.js";

/** A name nobody has, made of the words of a text. */
export function freshName({ model }: View, text: string): string {
  const taken = new Set<string>(
    [...model.conditions, ...model.picks, ...model.situations, ...model.bands, ...model.groups].map(({ name }) => name),
  );
  for (const { domain } of model.conditions)
    for (const value of domain.kind === "scale" ? domain.levels : domain.kind === "set" ? domain.members : []) taken.add(value);
  for (const { options } of model.picks) for (const option of options) taken.add(option.text);
  const wanted = formOfName(text);
  if (!taken.has(wanted)) return wanted;
  for (let n = 2; ; n++) if (!taken.has(`${wanted}-${n}`)) return `${wanted}-${n}`;
}

const declaring: ReadonlySet<string> = new Set(["book", "builds on", "leave out", "add", "condition", "band", "group", "situation"]);

/** A declaration more, below the last one of the book, or that of what it is about. */
export function addDeclaration(view: View, statement: string, about?: string): Edit {
  const { statements } = view.parsed.tree;
  const own = about === undefined ? undefined : statements.find((one) => one.kind === "condition" && one.name?.text === about);
  const last = own ?? statements.findLast(({ kind }) => declaring.has(kind));
  return last ? addBelow(view, last, statement) : insert(view, 0, `${statement}\n`);
}
