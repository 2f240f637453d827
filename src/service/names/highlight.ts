/** The other places in the viewed book where what is named at an offset is named, each as its declaration or as a mention of it. */
import type { Range } from "../../text.js";
import { namesOf } from "./names.js";
import type { View } from "../view.js";

export interface Highlight {
  readonly range: Range;
  readonly kind: "declaration" | "mention";
}

export function highlightsAt(view: View, offset: number): readonly Highlight[] {
  const names = namesOf(view);
  const here = names.at(offset);
  if (here === undefined) return [];
  return names
    .of(here.thing)
    .filter(({ path }) => path === view.path)
    .map(({ range, declares }) => ({ range, kind: declares ? "declaration" : "mention" }));
}
