/** What every view asks: what is known, what follows from it, and how to change it. One for the page. */
import { outcomeKey, pointIn } from "../../analysis/answers.js";
import { budget, withinBudget } from "../../analysis/budget.js";
import { likeliestBox } from "../../analysis/diagrams/region.js";
import type { Outcome } from "../../analysis/outcome.js";
import { answersAt } from "../../analysis/point.js";
import type { Condition, Model } from "../../model/model.js";
import { modelIn, type System } from "../../model/reader.js";
import { readDate, readTime } from "../../model/calendar.js";
import { reasonsFor, type Reason } from "../../answer/because.js";
import { compile, type Table } from "../../table/compile.js";
import { readGiven, saidValues, type Given } from "../../answer/given.js";
import { chartedFor } from "../../answer/closed.js";
import { together, type Together } from "../../answer/joint.js";
import { answer, type Answered } from "../../answer/answer.js";
import { sayExample } from "../../messages/words.js";
import { filledAt, type Moment } from "../fill.js";
import type { PictureSource } from "../picture.js";
import type { Where } from "../sky.js";
import type { PageBook, State } from "./contract.js";
import { readState, writeState } from "./state.js";

export interface Visit {
  readonly book: PageBook;
  /** The book's model in the units that are chosen: what everything said is made of. */
  model(): Model;
  state(): State;
  /** Undefined forgets. */
  tell(name: string, value: string | undefined): void;
  choose(key: string, value: string | undefined): void;
  change(values: ReadonlyMap<string, string | undefined>, choices?: ReadonlyMap<string, string | undefined>): void;
  clear(): void;
  moment(): Moment;
  /** By name: what the date, the time and the place fill in. */
  filled(): ReadonlyMap<string, string>;
  /** What is known, told or filled in; what cannot be read is left out, and `problems` says why. */
  given(): { readonly given: Given; readonly problems: ReadonlyMap<string, string> };
  said(): readonly { readonly name: string; readonly label: string; readonly value: string }[];
  /** Without the question, which takes as long as the rest. */
  answered(): Answered | { readonly problem: string };
  /** The condition to ask about; undefined: nothing that is unknown can change a pick. */
  question(): Condition | undefined;
  /** The same for other values, by name; not remembered. */
  answerFor(values: ReadonlyMap<string, string>): Answered | { readonly problem: string };
  known(): ReadonlyMap<string, string>;
  system(): System;
  /** Why a pick has one of the outcomes that are possible, at the likeliest point that has it; undefined: not found. */
  reasonsOf(pick: number, outcome: Outcome): readonly Reason[] | undefined;
  source(pick: number): PictureSource | undefined;
  table(pick: number): Table | undefined;
  address(state?: State): string;
  onChange(run: () => void): void;
}

/** Stands for a value that is filled in, but is to be unknown. */
export const NOT_KNOWN = "?";
const STEPS = 200_000;

export function openVisit(book: PageBook): Visit {
  const models = new Map<System, Model>();
  let state = readState(location.hash);
  let listeners: readonly (() => void)[] = [];
  let memo = new Map<string, unknown>();
  const sources = new Map<number, PictureSource | undefined>();
  const tables = new Map<number, Table | undefined>();
  const once = <T>(key: string, work: () => T): T => {
    if (!memo.has(key)) memo.set(key, work());
    return memo.get(key) as T;
  };
  const changed = (): void => {
    memo = new Map();
    for (const run of listeners) run();
  };
  addEventListener("hashchange", () => {
    if (location.hash === writeState(state)) return;
    state = readState(location.hash);
    changed();
  });
  const change: Visit["change"] = (values, choices = new Map()) => {
    state = { values: merged(state.values, values), choices: zoned(merged(state.choices, choices)) };
    const here = new URL(location.href);
    here.hash = writeState(state);
    history.replaceState(null, "", here);
    changed();
  };
  const system = (): System => (["us", "metric", "sea"] as const).find((one) => one === state.choices.get("units")) ?? "book";
  const model = (): Model => {
    const chosen = system();
    if (!models.has(chosen)) models.set(chosen, modelIn(book.model, chosen));
    return models.get(chosen)!;
  };
  const moment = (): Moment => {
    const { choices } = state;
    const [date, time] = [choices.get("date"), choices.get("time")];
    const minute = time === undefined ? undefined : readTime(time);
    const [latitude, longitude] = [choices.get("lat"), choices.get("lon")].map((text) =>
      text === undefined || text === "" ? NaN : Number(text),
    );
    const place: Where | undefined =
      Math.abs(latitude!) <= 90 && Math.abs(longitude!) <= 180 ? { latitude: latitude!, longitude: longitude! } : undefined;
    const zone = Number(choices.get("zone") ?? NaN);
    return {
      ...(date !== undefined && readDate(date) && { date }),
      ...(minute !== undefined && { minute }),
      ...(place && { place }),
      zone: Number.isFinite(zone) && Math.abs(zone) <= 15 ? zone * 60 : -new Date(`${date ?? book.facts.on}T12:00`).getTimezoneOffset(),
    };
  };
  const filled = () => once("filled", () => filledAt(book.model, moment()));
  const known = () =>
    once("known", () => {
      const all = new Map(filled());
      for (const [name, value] of state.values)
        if (value === NOT_KNOWN) all.delete(name);
        else all.set(name, value);
      return all;
    });
  const read = (values: ReadonlyMap<string, string>) => {
    const problems = new Map<string, string>();
    let left = [...values];
    for (;;) {
      const reading = readGiven(model(), left);
      if ("given" in reading) return { given: reading.given, problems };
      for (const { name, problem } of reading.problems) problems.set(name, problem);
      left = left.filter(([name]) => !problems.has(name));
    }
  };
  const given = () => once("given", () => read(known()));
  const fresh = () => budget(STEPS);
  const source: Visit["source"] = (pick) => {
    if (!sources.has(pick))
      sources.set(
        pick,
        withinBudget(() => ({ model: book.model, joint: together(chartedFor(book.answers(), pick), [pick], fresh()), fresh })),
      );
    const known = sources.get(pick);
    return known && { ...known, model: model() };
  };
  return {
    book,
    model,
    system,
    change,
    source,
    reasonsOf: (pick, outcome) => {
      const joint = source(pick)?.joint;
      const wanted = (leaf: Together): boolean => leaf !== undefined && outcomeKey(leaf[0]!) === outcomeKey(outcome);
      const box = joint && likeliestBox(chartedFor(book.answers(), pick), joint.node, wanted, given().given.box);
      return box && reasonsFor(model(), answersAt(book.model, pointIn(book.answers(), box)), pick);
    },
    moment,
    filled,
    known,
    given,
    state: () => state,
    tell: (name, value) => change(new Map([[name, value ?? (filled().has(name) ? NOT_KNOWN : undefined)]])),
    choose: (key, value) => change(new Map(), new Map([[key, value]])),
    clear: () => {
      const { choices } = state;
      change(
        new Map([...state.values.keys()].map((name) => [name, undefined])),
        new Map([...choices.keys()].filter((key) => key !== "view" && key !== "units").map((key) => [key, undefined])),
      );
    },
    said: () =>
      Object.entries(saidValues(model(), given().given)).map(([name, value]) => ({
        name,
        label: model().conditions.find((one) => one.name === name)!.label,
        value: sayExample({ "": value }).trim(),
      })),
    answered: () => once("answered", () => answer(model(), given().given, book.answers, { steps: STEPS, question: false })),
    question: () =>
      once("question", () => {
        const answered = answer(model(), given().given, book.answers, { steps: STEPS });
        return "problem" in answered || answered.ask === undefined ? undefined : model().conditions[answered.ask];
      }),
    answerFor: (values) => answer(model(), read(values).given, book.answers, { steps: STEPS, question: false }),
    table: (pick) => {
      if (!tables.has(pick)) {
        const made = compile(chartedFor(book.answers(), pick), { picks: [pick], steps: STEPS, chained: true });
        tables.set(pick, "table" in made ? made.table : undefined);
      }
      return tables.get(pick);
    },
    address: (other = state) =>
      `${book.facts.address === undefined ? location.href.split("#")[0]! : `${book.facts.address.replace(/\/$/, "")}/${location.pathname.split("/").at(-1)!}`}${writeState(other)}`,
    onChange: (run) => void (listeners = [...listeners, run]),
  };
}

/** A time is one of a zone: whoever opens the link elsewhere means the same moment. */
function zoned(choices: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  if (!choices.has("time") || choices.has("zone")) return choices;
  const date = choices.get("date");
  const at = date !== undefined && readDate(date) ? new Date(`${date}T12:00`) : new Date();
  return new Map(choices).set("zone", String(-at.getTimezoneOffset() / 60));
}

function merged(before: ReadonlyMap<string, string>, changes: ReadonlyMap<string, string | undefined>): ReadonlyMap<string, string> {
  const after = new Map(before);
  for (const [key, value] of changes)
    if (value === undefined) after.delete(key);
    else after.set(key, value);
  return after;
}
