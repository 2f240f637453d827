/** Completion: what really follows is among what is offered, and what is made of it alone can be read. */
import { tokenMatcher, type TokenType } from "chevrotain";
import { describe, expect, test } from "vitest";
import * as T from "../../grammar/tokens.js";
import { completions } from "../../src/service/completion/completion.js";
import type { Completion } from "../../src/service/completion/offer.js";
import { tokensBefore } from "../../src/service/completion/context.js";
import { dueAfter } from "../../src/service/completion/due.js";
import { openView, type View } from "../../src/service/view.js";
import { syntaxWords } from "../../src/messages/syntax.js";
import { makeTools } from "../../src/syntax/parse.js";
import { sampleOf } from "../../src/syntax/sample.js";
import { dice, shopBook } from "../bench/books.js";
import { book } from "./blade-book.js";
import { reading, shippedBooks } from "./marks.js";

/** Where whoever writes is free: what is declared, what is explained. */
const free = new Set(["newName", "label", "text", "limit", "date"]);
const declaring = new Set(["condition", "bandPart", "comparing", "pick"]);

describe("laws", () => {
  test("at every place of the shipped books, the word that follows is among the completions", () => {
    const books = shippedBooks();
    const roll = dice(11);
    const missed: string[] = [];
    let [asked, left] = [0, 0];
    for (const [path, text] of Object.entries(books)) {
      const whole = openView(path, text, reading(books));
      for (const token of makeTools().lexer.tokenize(text).tokens) {
        if (roll(20) !== 0) continue;
        const at = token.startOffset;
        const statement = whole.parsed.tree.statements.find(({ range }) => range.start <= at && at < range.end);
        if (statement === undefined || isFree(whole, token.tokenType, at)) {
          left++;
          continue;
        }
        // The statement has been written up to here, now and then with the first letters of the next word; others follow it.
        const typed = roll(3) === 0 && token.image.length > 2 ? 2 : 0;
        const view = openView(path, text.slice(0, at + typed) + text.slice(statement.range.end), reading(books));
        const items = completions(view, at + typed, {
          paths: () => Object.keys(books).map((other) => (path.startsWith("common/") ? `../${other}` : other)),
        });
        asked++;
        const rest = text.slice(at).replace(/\s+/g, " ");
        if (!items.some((item) => leadsOn(item, rest))) missed.push(`${path}: ${text.slice(Math.max(0, at - 40), at)}▮${token.image}`);
      }
    }
    console.log(
      `the word that follows was offered at ${asked - missed.length} of ${asked} places (${((1 - missed.length / asked) * 100).toFixed(1)} %); ${left} were free to say anything${missed.map((one) => `\n  missed ${one.replace(/\s+/g, " ")}`).join("")}`,
    );
    expect(asked).toBeGreaterThan(150);
    expect(missed.length / asked).toBeLessThan(0.03);
  });

  test("a sentence made of completions alone is one the parser accepts", () => {
    const roll = dice(5);
    const free: readonly [TokenType, string][] = [
      [T.Colon, ": "],
      [T.Comma, ", "],
      [T.Close, ")"],
      [T.Name, "some-name"],
      [T.Text, '"a text"'],
      [T.Number, "7"],
      [T.Date, "2027-04-15"],
    ];
    let [made, clean] = [0, 0];
    for (let n = 0; n < 150; n++) {
      let text = `${book}\n`;
      for (let step = 0; step < 40; step++) {
        const view = openView("book.lore", text, () => ({ problem: "there is no such file" }));
        const next = dueAfter(tokensBefore(view, text.length));
        if (step > 1 && next.mayEnd && roll(3) === 0) break;
        const items = completions(view, text.length, { paths: () => ["base.lore"] }).filter(
          ({ kind, label }) =>
            kind !== "snippet" && !(step > 0 && T.words.some(({ phrase, role }) => role === "statement" && phrase === label)),
        );
        const punctuation = free.filter(([token]) => next.dues.some((due) => due.token === token));
        const item = items.length > 0 && (punctuation.length === 0 || roll(4) > 0) ? items[roll(Math.min(8, items.length))] : undefined;
        const put = punctuation[roll(Math.max(1, punctuation.length))];
        if (!item && !put) break;
        text = item ? `${text.slice(0, item.range.start)}${item.text} ` : `${text}${put![1]} `;
      }
      const view = openView("book.lore", text, () => ({ problem: "there is no such file" }));
      if (!dueAfter(tokensBefore(view, text.length)).mayEnd) continue;
      made++;
      // A pattern may still lack what it recommends; whatever is there can be read.
      const wrong = view.parsed.findings.filter(({ title }) => title !== syntaxWords.noAction(sampleOf("")).title);
      expect([text.slice(book.length + 1), wrong.map(({ title }) => title)]).toEqual([text.slice(book.length + 1), []]);
      if (view.parsed.findings.length === 0) clean++;
    }
    console.log(`${made} sentences made of completions, ${clean} of them without any finding of the parser`);
    expect(made).toBeGreaterThan(60);
  });

  test("what was asked before makes no difference", () => {
    const text = shopBook(120);
    const fresh = (): View => openView("book.lore", text, () => ({ problem: "there is no such file" }));
    const view = fresh();
    const roll = dice(2);
    for (let n = 0; n < 40; n++) {
      const at = roll(text.length);
      expect(completions(view, at)).toEqual(completions(fresh(), at));
    }
  });
});

/** Whether what is offered, or what is left to type of a phrase, is what the book goes on with. */
function leadsOn({ text }: Completion, rest: string): boolean {
  const written = text.replace(/^, /, "");
  // `from 50 to 60 °F`: the unit of the first stands with the second.
  const alone = /^[\d./-]+ /.test(written) ? [written.replace(/ .*$/, "")] : [];
  return [written, ...alone].some((part) => rest.startsWith(part) && !/^[\p{L}\p{N}]/u.test(rest.slice(part.length)));
}

function isFree(view: View, token: TokenType, at: number): boolean {
  if ([T.Comma, T.Colon, T.Open, T.Close].includes(token)) return true;
  const { dues } = dueAfter(tokensBefore(view, at));
  const due = dues.find(
    (one) => tokenMatcher({ tokenTypeIdx: token.tokenTypeIdx } as never, one.token) && T.wordOf.get(one.token) === undefined,
  );
  if (due === undefined || T.wordOf.get(token) !== undefined) return false;
  const [inner, outer] = due.within;
  if (free.has(inner!.rule) || free.has(outer?.rule ?? "")) return true;
  if (inner!.rule === "title") return outer?.rule !== "titles";
  if (inner!.rule === "number") return false;
  return inner!.rule === "level"
    ? due.within.some(({ rule }) => rule === "condition")
    : due.within.some(({ rule }) => declaring.has(rule)) && !due.within.some(({ rule }) => rule === "test" || rule === "conditionName");
}
