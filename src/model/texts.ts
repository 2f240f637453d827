/** What picks recommend, and members of conditions, as the book writes them. */
import type { Texts } from "../messages/words.js";
import type { Group, Model, Option, Places } from "./model.js";

export function optionTexts({ options }: { readonly options: readonly Option[] }, places: Places): Texts {
  return places.map((place) => place.map((option) => options[option]!.text));
}

/** Members, or levels, in few words: the groups that are wholly among them, and those that are left over. */
export function inGroups(
  { groups }: Pick<Model, "groups">,
  condition: number,
  members: readonly number[],
): { readonly whole: readonly Group[]; readonly left: readonly number[] } {
  const left = new Set(members);
  const whole = groups.filter((group) => {
    const is = group.condition === condition && group.members.length > 1 && group.members.every((member) => left.has(member));
    if (is) for (const member of group.members) left.delete(member);
    return is;
  });
  return { whole, left: [...left] };
}
