/**
 * One statement's concrete tree into its node of `tree.ts`: exact places, missing things undefined.
 *
 *   concrete (every word)                            tree (what was said)
 *   pattern ─ title, patternClause ─ goWith …   ──▶  { kind: "pattern", title, actions: [{ kind: "go with", … }], … }
 *
 * Reports what the grammar leaves to sense: a clause given twice, one that is missing, a bare `never a, b or heavier`.
 */
import type { CstNode, IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { StatementRule } from "../../grammar/parser.js";
import { syntaxWords } from "../messages/syntax.js";
import type { Range } from "../text.js";
import { buildTest } from "./build-test.js";
import {
  date,
  has,
  isBlank,
  kid,
  kids,
  maybe,
  name,
  named,
  number,
  option,
  quantity,
  rangeOf,
  text,
  texts,
  tokenRange,
  tokens,
  value,
} from "./concrete.js";
import { rewrite, type Report } from "./report.js";
import type * as Tree from "./tree.js";

/** `whole`: whether the parser found nothing amiss; only then is a missing clause worth a word. */
export function buildStatement(node: CstNode, range: Range, report: Report, whole: boolean): Tree.Statement {
  const clauses = readClauses(node, report);
  const title = text(kid(node, "title") ?? kid(node, "path"));
  if (title !== undefined && isBlank(title.value)) report.add("syntax", title.range, syntaxWords.blank(firstWord(node)));
  const need = (clause: "when" | "say"): void => {
    if (whole && clauses[clause] === undefined)
      report.add("syntax", headOf(node, range), syntaxWords.needs(firstWord(node), clause, report.sample()));
  };
  const test = (clause: "when" | "onlyWhen"): Tree.Test | undefined => maybe(kid(clauses[clause], "test"), (one) => buildTest(one, report));
  const because = (): Tree.Text | undefined => text(kid(clauses["because"], "text"));

  switch (node.name as StatementRule) {
    case "bookHeader":
      return {
        kind: "book",
        range,
        title,
        shop: text(kid(clauses["shop"], "text")),
        water: text(kid(clauses["water"], "text")),
        edition: text(kid(clauses["edition"], "text")),
        goodFrom: date(kids(clauses["goodFrom"], "date")[0]),
        goodTo: date(kids(clauses["goodFrom"], "date")[1]),
      };
    case "buildsOn":
      return { kind: "builds on", range, path: title };
    case "leaveOut":
      return { kind: "leave out", range, titles: texts(kid(node, "titles"), "title") };
    case "addOption":
      return { kind: "add", range, pick: name(kid(node, "pickName")), options: options(node) };
    case "condition":
      return {
        kind: "condition",
        range,
        name: name(kid(node, "newName")),
        label: text(kid(node, "label")),
        domain: maybe(kid(node, "domain"), buildDomain),
        comparing: comparing(clauses),
        ask: text(kid(clauses["ask"], "text")),
        filledFrom: maybe(clauses["filledFrom"], buildSource),
      };
    case "band":
      return {
        kind: "band",
        range,
        condition: name(kid(node, "conditionName")),
        parts: kids(kid(node, "bandParts"), "bandPart").flatMap(buildBandPart),
      };
    case "group":
      return {
        kind: "group",
        range,
        condition: name(kid(node, "conditionName")),
        name: name(kid(node, "newName")),
        members: kids(kid(node, "levels"), "level").flatMap(named),
      };
    case "situation":
      return {
        kind: "situation",
        range,
        name: name(kid(node, "newName")),
        test: maybe(kid(node, "test"), (one) => buildTest(one, report)),
      };
    case "impossible":
      need("when");
      return { kind: "impossible", range, when: test("when"), because: because() };
    case "pick":
      return {
        kind: has(node, T.Judgement) ? "judgement" : "pick",
        range,
        name: name(kid(node, "newName")),
        label: text(kid(node, "label")),
        ordered: has(node, T.InOrder),
        options: options(node),
        sameAs: name(kid(node, "conditionName")),
        onlyWhen: test("onlyWhen"),
        comparing: comparing(clauses),
        ask: text(kid(clauses["ask"], "text")),
      };
    case "trust":
      return {
        kind: "trust",
        range,
        pick: name(kid(node, "pickName")),
        order: kids(kid(node, "trustOrder"), "conditionName").flatMap(named),
      };
    case "pattern": {
      const actions = kids(node, "patternClause").flatMap((clause) => buildAction(clause, report));
      if (whole && actions.length === 0) report.add("syntax", headOf(node, range), syntaxWords.noAction(report.sample()));
      return {
        kind: "pattern",
        range,
        title,
        actions,
        when: test("when"),
        because: because(),
        see: texts(clauses["see"], "text"),
        checked: date(kid(clauses["checked"], "date")),
        until: date(kid(clauses["until"], "date")),
        beats: texts(kid(clauses["beats"], "titles"), "title"),
      };
    }
    case "fallBack":
      return { kind: "fall back", range, pick: name(kid(node, "pickName")), places: places(node), because: because() };
    case "sayNothing":
      need("when");
      return {
        kind: "say nothing",
        range,
        picks: kids(kid(kid(node, "onWhat"), "pickNames"), "pickName").flatMap(named),
        everything: maybe(tokens(kid(node, "onWhat"), T.Everything)[0], (token) => ({ range: tokenRange(token) })),
        when: test("when"),
        because: because(),
      };
    case "caution":
      need("say");
      return {
        kind: "caution",
        range,
        title,
        when: test("when"),
        say: text(kid(clauses["say"], "text")),
        see: texts(clauses["see"], "text"),
      };
    case "promise": {
      const duty = kid(node, "duty");
      return {
        kind: "promise",
        range,
        title,
        pick: name(kid(node, "pickName")),
        must: duty && duties.find(([token]) => has(duty, token))?.[1],
        options: kids(kid(duty, "place"), "optionValue").flatMap(option),
        when: test("when"),
      };
    }
  }
}

// Clauses -------------------------------------------------------------------------------------------------------------------

const duties = [
  [T.MustBe, "be"],
  [T.MustNotBe, "not be"],
  [T.MustHaveAnAnswer, "have an answer"],
  [T.MustHaveNoAnswer, "have no answer"],
] as const;
const actionRules = new Set(["goWith", "lean", "never", "move"]);
const clauseRules = ["bookClause", "conditionClause", "pickClause", "patternClause", "reasonClause", "cautionClause"];

/** The clauses of a statement by their rule; the first of a kind counts, a second is reported. */
function readClauses(node: CstNode, report: Report): Readonly<Record<string, CstNode | undefined>> {
  const wrapped = clauseRules.flatMap((rule) => kids(node, rule)).flatMap((clause) => Object.values(clause.children).flat());
  const bare = [...kids(node, "because"), ...kids(node, "when")];
  const found: Record<string, CstNode> = {};
  for (const clause of [...wrapped, ...bare]) {
    if (!("children" in clause) || actionRules.has(clause.name)) continue;
    const first = found[clause.name];
    if (first === undefined) found[clause.name] = clause;
    else {
      const [again, before] = [rangeOf(clause), rangeOf(first)];
      if (again !== undefined && before !== undefined)
        report.add("duplicate", again, syntaxWords.twice(firstWord(clause), firstWord(node)), [
          rewrite(report.path, again, "", syntaxWords.takeOut()),
        ]);
    }
  }
  return found;
}

function buildAction(clause: CstNode, report: Report): Tree.Action[] {
  const [node] = [...actionRules].flatMap((rule) => kids(clause, rule));
  const range = node && rangeOf(node);
  if (node === undefined || range === undefined) return [];
  const pick = name(kid(node, "pickName"));
  switch (node.name) {
    case "goWith":
      return [{ kind: "go with", range, pick, places: places(node) }];
    case "lean":
      return [
        { kind: has(node, T.LeanOff) ? "lean off" : "lean to", range, pick, options: options(node), by: number(kid(node, "number")) },
      ];
    case "move":
      return [
        {
          kind: "move",
          range,
          pick,
          direction: has(node, T.Up) ? "up" : has(node, T.Down) ? "down" : undefined,
          by: number(kid(node, "number")),
        },
      ];
    default: {
      const [ruledOut, orWord] = [options(node), name(kid(node, "comparingWord"))];
      const or = tokens(node, T.Or)[0];
      if (or !== undefined && orWord !== undefined && ruledOut.length > 1) {
        report.add("syntax", orWord.range, syntaxWords.neverList(orWord.text), [
          rewrite(report.path, tokenRange(or), ",", syntaxWords.writeInstead(",")),
        ]);
      }
      return [{ kind: "never", range, pick, options: ruledOut, orWord }];
    }
  }
}

function comparing(clauses: Readonly<Record<string, CstNode | undefined>>): Tree.Comparing | undefined {
  return maybe(clauses["comparing"], (node) => {
    const rising = kids(node, "comparingWord");
    const range = rangeOf(node);
    return range && { range, rising: name(rising[0]), falling: name(rising[1]) };
  });
}

function places(node: CstNode): Tree.WrittenPlaces {
  return kids(kid(node, "places"), "place")
    .map((place) => kids(place, "optionValue").flatMap(option))
    .filter((place) => place.length > 0);
}

function options(node: CstNode): Tree.Value[] {
  return kids(kid(node, "options"), "optionValue").flatMap(option);
}

// Conditions ------------------------------------------------------------------------------------------------------------------

function buildDomain(node: CstNode): Tree.Domain | undefined {
  const range = rangeOf(node);
  if (range === undefined) return undefined;
  if (has(node, T.DaysOfTheYear)) return { kind: "days", range };
  if (has(node, T.TimesOfTheDay)) return { kind: "times", range };
  const [scale, set, measure] = [kid(node, "scale"), kid(node, "set"), kid(node, "measure")];
  if (scale) return { kind: "scale", range, ordered: has(scale, T.InOrder), levels: levels(scale) };
  if (set) return { kind: "set", range, members: levels(set), atLeastOne: has(set, T.AtLeastOne) };
  if (measure) {
    const [low, high, step] = kids(measure, "limit").map((limit) => quantity(kid(limit, "quantity")));
    return { kind: "measure", range, low, high, step };
  }
  return undefined;
}

function levels(node: CstNode): Tree.Name[] {
  return kids(kid(node, "levels"), "level").flatMap(named);
}

function buildSource(node: CstNode): Tree.Condition["filledFrom"] {
  const range = rangeOf(node);
  const source = has(node, T.TheDate)
    ? "date"
    : has(node, T.TheClock)
      ? "clock"
      : has(node, T.TheSun)
        ? "sun"
        : has(node, T.TheMoon)
          ? "moon"
          : undefined;
  return range && source && { range, source };
}

function buildBandPart(node: CstNode): Tree.BandPart[] {
  const [own, range] = [name(kid(node, "newName")), rangeOf(node)];
  if (own === undefined || range === undefined) return [];
  const limit = value(kid(node, "value"));
  return [{ range, name: own, ...(has(node, T.Below) ? { below: limit } : {}), ...(has(node, T.From) ? { from: limit } : {}) }];
}

// Words -----------------------------------------------------------------------------------------------------------------------

/** From the statement's first word to its name or title: a place to mark when something is missing altogether. */
function headOf(node: CstNode, range: Range): Range {
  const named = ["title", "newName", "pickName", "onWhat"].flatMap((rule) => kids(node, rule)).map(rangeOf)[0];
  return { start: range.start, end: named?.end ?? range.start + firstWord(node).length };
}

function firstWord(node: CstNode): string {
  const own = Object.values(node.children)
    .flat()
    .filter((child): child is IToken => "image" in child);
  const first = own.sort((a, b) => a.startOffset - b.startOffset)[0];
  return (first && T.wordOf.get(first.tokenType)?.phrase) ?? node.name;
}
