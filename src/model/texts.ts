/** What picks recommend, as the book writes it. */
import type { Pick, Places } from "./model.js";

/** Options by place, as written in the book. */
export type Texts = readonly (readonly string[])[];

export function optionTexts(pick: Pick, places: Places): Texts {
  return places.map((place) => place.map((option) => pick.options[option]!.text));
}
