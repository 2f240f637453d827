/**
 * What is broken never hides what is found elsewhere.
 *
 *     pattern "Rule 3"            one pattern of a sound book is damaged: whatever was found about picks that it does not
 *       go with blade <<<         speak of, and that do not depend on one it speaks of, is still found
 */
import * as fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import type { Finding } from "../../src/diagnostics.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { books } from "../law/books.js";
import { damaged, wordDamages } from "./damage.js";
import { readerOf, type Texts } from "./everything.js";

const seed = Number(process.env["HARD_SEED"] ?? 20270416);
const factor = Number(process.env["HARD_RUNS"] ?? 1);
let [tried, kept, hurt] = [0, 0, 0];
afterAll(() =>
  console.log(
    `hard/unrelated: ${tried} damaged statements, ${hurt} of them broken; ${kept} findings about other picks, all kept (seed ${seed})`,
  ),
);

const sizes = { points: 300, conditions: 3, picks: 5, patterns: 8 };

test("a broken statement hides nothing about picks it has nothing to do with", { timeout: 600_000 }, () => {
  fc.assert(
    fc.property(books(sizes), fc.nat(10_000), wordDamages(3), (book, which, damages) => {
      const whole = checked(book.texts, book.root);
      const found = whole.findings.filter(isAboutPick);
      const places = Object.entries(book.texts).flatMap(([path, text]) => statementsOf(text).map((statement) => ({ path, ...statement })));
      if (places.length === 0) return;
      const { path, start, end } = places[which % places.length]!;
      const text = book.texts[path]!;
      const statement = text.slice(start, end);
      // The words it starts with stay, or the rest would belong to the statement before it, and its title, which others name.
      const [, first, rest] = /^(pattern "[^"\n]*"|promise "[^"\n]*"|fall back on |say nothing on )(.*)$/s.exec(statement)!;
      const own = new Set(statement.match(/[\p{L}\d-]+/gu));
      // Everything is every pick; what is closed is said of all of them.
      if (own.has("everything")) return;
      const after = damaged(
        rest!,
        damages.filter(({ kind }) => kind !== "language"),
      ).replace(/\n(?=\S)/g, "\n  ");
      const broken = { ...book.texts, [path]: text.slice(0, start) + first! + after + text.slice(end) };
      const now = checked(broken, book.root);
      tried++;
      if (now.faults > whole.faults) hurt++;
      const touched = dependents(
        whole.model,
        whole.model.picks.filter(({ name }) => own.has(name)).map(({ index }) => index),
      );
      const expected = found.filter(({ pick }) => !touched.has(pick!)).map(keyOf);
      const left = now.findings.filter(isAboutPick).map(keyOf);
      kept += expected.length;
      for (const key of expected) expect(left).toContain(key);
    }),
    { numRuns: Math.ceil(600 * factor), seed },
  );
});

function checked(texts: Texts, root: string): { readonly model: Model; readonly findings: readonly Finding[]; readonly faults: number } {
  const { model, findings } = resolve(parse(texts[root]!, root), readerOf(texts), { on: "2027-04-15" });
  return { model, findings: analyse(model).findings, faults: findings.filter(({ severity }) => severity === "error").length };
}

/** Statements that speak of picks alone: what others declare, all may use. */
function statementsOf(text: string): readonly { readonly start: number; readonly end: number }[] {
  return [...text.matchAll(/^(pattern|fall back|say nothing|promise) .*(\n .*)*/gm)].map((match) => ({
    start: match.index,
    end: match.index + match[0].length,
  }));
}

function isAboutPick({ code, pick }: Finding): boolean {
  return pick !== undefined && ["conflict", "gap", "hairline", "toss-up", "waiting", "circle", "promise", "set-clash"].includes(code);
}

/** What it is about and how much of everything; the same region may be said in other words, with another example, when less is tested. */
function keyOf({ code, pick, patterns, share }: Finding): string {
  return JSON.stringify([code, pick, patterns, share]);
}

/** Names of these picks and of all that test them, however far on. */
function dependents(model: Model, picks: readonly number[]): ReadonlySet<string> {
  const all = new Set(picks);
  for (const pick of model.picks) if (pick.tests.some((other) => all.has(other))) all.add(pick.index);
  return new Set([...all].map((index) => model.picks[index]!.name));
}
