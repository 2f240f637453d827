/** A new book from its title: what its file is called, and what stands in it. */
import { starter } from "../../messages/cli.js";

/** The title of the book that `waterlore new` writes. */
export const usualTitle = /(?<=^book ").*(?=")/.exec(starter)![0];

/** The name of its file without the ending: its title in small letters, with a hyphen for whatever is no letter or digit. */
export function bookFileName(title: string): string {
  return (title.toLowerCase().match(/[\p{L}\p{M}\p{N}]+/gu) ?? ["lore"]).join("-");
}

/** The book that `waterlore new` writes, under another title. */
export function newBookText(title: string): string {
  return starter.replace(usualTitle, () => title.replace(/["“”]/g, "'"));
}
