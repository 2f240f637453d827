/** Books of the resolver's tests: texts to models. */
import type { Finding } from "../../src/diagnostics.js";
import type { Model, Test } from "../../src/model/model.js";
import { resolve, type Resolved } from "../../src/model/resolve.js";
import { holds } from "../../src/model/span.js";
import { parse } from "../../src/syntax/parse.js";

export type Texts = Readonly<Record<string, string>>;

/** Resolves the last of the texts, or a single one. */
export function resolved(texts: Texts | string, on?: string): Resolved {
  const books: Texts = typeof texts === "string" ? { "book.lore": texts } : texts;
  const root = Object.keys(books).at(-1)!;
  return resolve(parse(books[root]!, root), (path) => (path in books ? { text: books[path]! } : { problem: "there is no such file" }), {
    on,
  });
}

/** The model of a book without errors; fails on any. */
export function sound(texts: Texts | string, on?: string): Model {
  const { model, findings } = resolved(texts, on);
  const errors = findings.filter(({ severity }) => severity === "error");
  if (errors.length > 0) throw new Error(errors.map(inWords).join("\n"));
  return model;
}

/** The test after `when` in a book that says nothing else of these declarations. */
export function testIn(declarations: string, when: string): { readonly model: Model; readonly test: Test } {
  const model = sound(`${declarations}\npick answer: yes, no\npattern "asked" go with answer yes when ${when}`);
  return { model, test: model.patterns[0]!.when! };
}

/** Does a test of conditions hold at a point? */
export function holdsAt(test: Test, point: readonly number[]): boolean {
  switch (test.kind) {
    case "and":
      return test.parts.every((part) => holdsAt(part, point));
    case "or":
      return test.parts.some((part) => holdsAt(part, point));
    case "not":
      return !holdsAt(test.part, point);
    case "axis":
      return holds(test.span, point[test.axis]!);
    case "pick":
      throw new Error("no test of conditions");
    default:
      return test.kind === "always";
  }
}

export function inWords({ code, title, message }: Finding): string {
  return `${code}: ${title}. ${message}`;
}
