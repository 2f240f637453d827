/** The Prettier plugin: `prettier --plugin waterlore/prettier --write rules/`. The layout itself is `syntax/print.ts`. */
import type { Parser, Plugin, Printer, SupportLanguage } from "prettier";
import { layout, printBook, readBook, type ConcreteBook } from "../syntax/print.js";

export const languages: SupportLanguage[] = [{ name: "Lore", parsers: ["lore"], extensions: [".lore"], vscodeLanguageIds: ["lore"] }];

const lore: Parser<ConcreteBook> = {
  parse: readBook,
  astFormat: "lore-book",
  locStart: () => 0,
  locEnd: (book) => book.text.length,
};
export const parsers = { lore };

const book: Printer<ConcreteBook> = { print: (path) => printBook(path.node) };
export const printers = { "lore-book": book };

export const defaultOptions: Plugin["defaultOptions"] = { ...layout };

const plugin: Plugin = { languages, parsers, printers, defaultOptions };
export default plugin;
