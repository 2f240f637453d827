/**
 * How many questions the counter asks before every pick is settled, over the shipped books: against asking everything, and against the
 * best any way of asking could do.
 *
 * `blades.lore` is small enough to know exactly. In the larger books customers are drawn, each a possible point: how often they are
 * asked where only what the tool fills itself is known, and, where all is known of them but six conditions, how far that is from the best.
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { lookup, type Box } from "../../src/analysis/diagrams/diagram.js";
import type { Point } from "../../src/analysis/outcome.js";
import type { Axis, Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import type { Span } from "../../src/model/span.js";
import { parse } from "../../src/syntax/parse.js";
import { averages, questionOf, thatMatter, toldWhere } from "./asking.js";
import { dice } from "./books.js";

const rules = fileURLToPath(new URL("../../rules/", import.meta.url));

const CUSTOMERS = 20;
const UNKNOWN = 6;

export function questions(line: (label: string, ...values: string[]) => void): void {
  const row = (label: string, ...values: readonly number[]): void => line(label, ...values.map((value) => value.toFixed(2)));
  line("", "asked", "all that matter", "every condition", "best possible");
  const blades = answersOf("blades.lore");
  const { asked, best, matter } = averages(blades, new Map())!;
  row("blades.lore, nothing known", asked, matter, blades.model.conditions.length, best);
  for (const path of ["reservoir.lore", "hollin-cove.lore", "river.lore", "inshore.lore"]) {
    const known = answersOf(path);
    const { model } = known;
    const roll = dice(5);
    const customers = Array.from({ length: CUSTOMERS }, () => customer(known, roll));
    const counts = customers.map((point) => asksOf(known, point));
    const all = mean(customers.map((point) => thatMatter(model, toldWhere(known, filled(model, point))).length));
    line(`${path}, today known`, mean(counts).toFixed(2), all.toFixed(2), model.conditions.length.toFixed(2));
    const games = customers.flatMap((point) => averages(known, allBut(known, point, roll)) ?? []).filter(({ matter }) => matter > 1);
    row(
      `${path}, ${UNKNOWN} unknown (${games.length} customers)`,
      mean(games.map((game) => game.asked)),
      mean(games.map((game) => game.matter)),
      UNKNOWN,
      mean(games.map((game) => game.best)),
    );
  }
}

function answersOf(path: string): Answers {
  const text = readFileSync(rules + path, "utf8");
  const { model } = resolve(parse(text, path), (other) => ({ text: readFileSync(rules + other, "utf8") }));
  return answers(model, { steps: 400_000 });
}

/** A possible point, drawn as often as its weight says. */
function customer({ model, possible }: Answers, roll: (sides: number) => number): Point {
  for (;;) {
    const point = model.axes.map((axis) => position(axis, roll));
    if (lookup(possible.node, (axis) => point[axis]!) === 1) return point;
  }
}

function position({ size, weights }: Axis, roll: (sides: number) => number): number {
  if (!weights) return roll(size);
  const total = weights.reduce((sum, weight) => sum + weight, 0n);
  let left = (BigInt(roll(1_000_000)) * total) / 1_000_000n;
  return weights.findIndex((weight) => (left -= weight) < 0n);
}

/** Questions until nothing that is unknown can change a pick. */
function asksOf(known: Answers, point: Point): number {
  const box = new Map(filled(known.model, point));
  for (let count = 0; ; count++) {
    const ask = questionOf(known, box);
    if (ask === undefined) return count;
    for (const axis of known.model.conditions[ask]!.axes) box.set(axis, [point[axis]!, point[axis]!]);
  }
}

/** What the tool fills itself, from the date, the clock, the sun or the moon. */
function filled(model: Model, point: Point): Box {
  return new Map(
    model.axes
      .filter(({ condition }) => model.conditions[condition]!.filledFrom)
      .map(({ index }): [number, Span] => [index, [point[index]!, point[index]!]]),
  );
}

/** All of a customer but some of the conditions that matter. */
function allBut(known: Answers, point: Point, roll: (sides: number) => number): Box {
  const { model } = known;
  const left = [...thatMatter(model, toldWhere(known, filled(model, point)))];
  const open = new Set(Array.from({ length: Math.min(UNKNOWN, left.length) }, () => left.splice(roll(left.length), 1)[0]!.index));
  return new Map(
    model.axes.filter(({ condition }) => !open.has(condition)).map(({ index }): [number, Span] => [index, [point[index]!, point[index]!]]),
  );
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
