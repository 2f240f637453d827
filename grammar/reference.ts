/**
 * The formal part of the language reference, made from the parser's own grammar so that the two cannot differ.
 *
 *   parser ──its serialized rules──▶ productions, one section per statement, then what several share
 *
 * The notation is that of ISO/IEC 14977 (EBNF): `[ … ]` once or not at all, `{ … }` any number of times, `|` or.
 */
import type { ISerializedGast, TokenType } from "chevrotain";
import { LoreParser, statementRules } from "./parser.js";
import { unitSymbols, words, type Role } from "./tokens.js";

export const formalMarks = { start: "<!-- formal:start -->", end: "<!-- formal:end -->" } as const;

/** The reference with its formal part brought up to date; unchanged if it has no marks for one. */
export function withFormalPart(reference: string): string {
  const [start, end] = [reference.indexOf(formalMarks.start), reference.indexOf(formalMarks.end)];
  if (start < 0 || end < start) return reference;
  return `${reference.slice(0, start + formalMarks.start.length)}\n\n${formalPart()}\n${reference.slice(end)}`;
}

/** Markdown: notation, words, and the productions of every rule. */
function formalPart(): string {
  const rules = new Map(new LoreParser({ validate: true }).getSerializedGastProductions().map((rule) => [named(rule), rule]));
  const owners = ownersOf(rules);
  const shared = [...reach(rules, "book")].filter((rule) => rule !== "book" && rule !== "statement" && !owners.has(rule));
  const valueRules = reach(rules, "optionValue");
  const isValue = (rule: string): boolean => valueRules.has(rule) || partsOf(rules.get(rule)!).every(({ type }) => type === "Terminal");
  const testRules = reach(rules, "test");
  const sections = [
    section("A book", ["book", "statement"], rules),
    ...[...new Set(statementRules.values())].map((statement) =>
      section(
        titleOf(statement),
        [...reach(rules, statement)].filter((rule) => rule === statement || owners.get(rule) === statement),
        rules,
      ),
    ),
    section(
      "Clauses of several statements",
      shared.filter((rule) => !isValue(rule) && !testRules.has(rule)),
      rules,
    ),
    section(
      "Tests",
      shared.filter((rule) => !isValue(rule) && testRules.has(rule)),
      rules,
    ),
    section("Names and values", shared.filter(isValue), rules),
  ];
  return [notation, ...sections, wordSection()].join("\n");
}

const notation = `This part is made from the parser's own grammar. \`[ … ]\` stands once or not at all, \`{ … }\` any number of times, \`|\` means or; words in
quotation marks stand as they are, with any blanks, line ends or none between them as long as words stay apart. Names in capitals:

| | |
| --- | --- |
| \`NAME\` | a word of lower-case letters and digits of any script, beginning with a letter, with single hyphens inside; none of the words below |
| \`TEXT\` | anything between straight double quotes on one line; there is no way to write such a quote inside |
| \`NUMBER\` | \`4\`, \`4.5\`, \`3/8\`, \`1 1/2\`, each with \`-\` before it or not |
| \`UNIT\` | a unit that is no plain word: ${unitSymbols.map((unit) => `\`${unit}\``).join(", ")} |
| \`DAY\` | a month of three letters and a number: \`apr 15\` |
| \`DATE\` | \`2027-04-15\` |
| \`TIME\` | \`05:30\` |

\`--\` begins a comment, which runs to the end of its line and may stand wherever a blank may. Two rules stand above the grammar: after \`is A or\`, a name
that a test could begin with (because \`is\`, \`has\`, \`only\` or \`from\` follows it) begins a new test; and in a test, \`and\` and \`or\` side by side need
parentheses, or a comma before the very last \`or\`. A clause stands at most once in a statement, but \`go with\`, \`lean to\`, \`lean off\`, \`never\` and
\`move\` may stand several times, and a pattern has at least one of these; \`impossible\` and \`say nothing on\` need their \`when\`, a caution its \`say\`.
`;

type Rules = ReadonlyMap<string, ISerializedGast>;

function section(title: string, names: readonly string[], rules: Rules): string {
  return `### ${title}\n\n\`\`\`ebnf\n${names.map((rule) => production(rules.get(rule)!)).join("\n")}\n\`\`\`\n`;
}

/** Rules that one statement alone uses, by that statement. */
function ownersOf(rules: Rules): Map<string, string> {
  const statements = [...new Set(statementRules.values())];
  const owners = new Map<string, string>();
  for (const rule of rules.keys()) {
    const users = statements.filter((statement) => statement !== rule && reach(rules, statement).has(rule));
    if (users.length === 1) owners.set(rule, users[0]!);
  }
  for (const statement of statements) owners.set(statement, "");
  return owners;
}

/** The rules that a rule uses, itself among them. */
function reach(rules: Rules, from: string): Set<string> {
  const found = new Set<string>();
  const visit = (node: ISerializedGast): void => {
    if (node.type === "NonTerminal") follow(named(node));
    for (const part of partsOf(node)) visit(part);
  };
  const follow = (rule: string): void => {
    if (found.has(rule)) return;
    found.add(rule);
    visit(rules.get(rule)!);
  };
  follow(from);
  return found;
}

function production(rule: ISerializedGast): string {
  const [only] = partsOf(rule);
  const name = spelled(named(rule));
  if (partsOf(rule).length === 1 && only!.type === "Alternation") {
    return `${name}\n  = ${partsOf(only!)
      .map((part) => sequence(partsOf(part)))
      .join("\n  | ")} ;`;
  }
  return `${name} = ${sequence(partsOf(rule))} ;`;
}

function sequence(parts: readonly ISerializedGast[]): string {
  return parts.map(expression).join(", ");
}

function expression(node: ISerializedGast): string {
  const inside = sequence(partsOf(node));
  switch (node.type) {
    case "NonTerminal":
      return spelled(named(node));
    case "Terminal":
      return terminal(named(node));
    case "Option":
      return `[ ${inside} ]`;
    case "Repetition":
      return `{ ${inside} }`;
    case "RepetitionMandatory":
      return `${inside}, { ${inside} }`;
    case "Alternation": {
      const choices = partsOf(node).map((part) => sequence(partsOf(part)));
      return `( ${choices.join(" | ")} )`;
    }
    default:
      return inside;
  }
}

const marks: Readonly<Record<string, string>> = { Colon: '":"', Comma: '","', Open: '"("', Close: '")"' };

function terminal(name: string): string {
  const word = words.find(({ token }) => token.name === name);
  return word === undefined ? (marks[name] ?? name.toUpperCase()) : `"${word.phrase}"`;
}

function wordSection(): string {
  const list = (...roles: Role[]): string =>
    words
      .filter(({ role }) => roles.includes(role))
      .map(({ phrase }) => `\`${phrase}\``)
      .join(", ");
  return `### Words

- Words that start a statement: ${list("statement")}.
- Words that start a clause: ${list("clause")}.
- Words that follow the subject of a test: ${list("relation")}.
- Other words: ${list("joining")}.
- Words that matter in one place and are free as names everywhere else: ${list("free")}.
- Taken as well, so that they can be put right: ${words
    .filter(({ instead }) => instead.length > 0)
    .map(({ phrase, instead }) => `${instead.map((one) => `\`${one}\``).join(", ")} (write \`${phrase}\`)`)
    .join("; ")}.
`;
}

/** As a heading, the words that start the statement. */
function titleOf(statement: string): string {
  const starters = [...statementRules].filter(([, rule]) => rule === statement).map(([token]) => phraseOf(token));
  return starters.map((phrase) => `\`${phrase}\``).join(" and ");
}

function phraseOf(token: TokenType): string {
  return words.find((word) => word.token === token)?.phrase ?? token.name;
}

/** `pickName` is written `pick-name`; `optionValue` is an option. */
function spelled(rule: string): string {
  return rule === "optionValue" ? "option" : rule.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

function named(node: ISerializedGast): string {
  return "name" in node && typeof node.name === "string" ? node.name : "";
}

function partsOf(node: ISerializedGast): readonly ISerializedGast[] {
  return "definition" in node && Array.isArray(node.definition) ? node.definition : [];
}
