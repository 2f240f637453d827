/**
 * Whole sentences to start from, with the book's own names in their places.
 *
 *     pattern "${1:Title}"                      In the syntax of snippets that editors share (LSP 3.17, "Snippet Syntax"), and as
 *       go with ${2|blade,weight|} ${3:round}   plain text for editors that do not know it. Filled in as it stands, every one reads
 *       when ${4:clarity is muddy}              without an error of its syntax.
 *
 * Sentences that need no name of the book, and all of them while it has none, are those of `grammar/snippets.ts`.
 */
import { snippets } from "../../../grammar/snippets.js";
import { domainOf, isOrdered, optionAsWritten, type BookNames } from "./names.js";
import type { NamedSubject } from "../names/name-table.js";

export interface BookSnippet {
  /** What is typed to get it: the first words of the sentence. */
  readonly prefix: string;
  readonly title: string;
  readonly about: string;
  readonly text: string;
  readonly snippet: string;
}

/** Of some kinds of statements there are several. */
export function bookSnippets(names: BookNames): readonly BookSnippet[] {
  const own = new Map(ownBodies(names));
  return snippets.map(({ prefix, title, about, body }) => {
    const usual = body.at(-1) === "$0" ? body.slice(0, -1) : body;
    const snippet = (own.get(title) ?? usual).join("\n");
    return { prefix, title, about, snippet, text: filledIn(snippet) };
  });
}

/** Every place as it is offered, a choice as its first. */
function filledIn(snippet: string): string {
  return snippet
    .replace(/\$\{\d+\|([^,|]*)[^}]*\|\}/g, "$1")
    .replace(/\$\{\d+:((?:\\.|[^\\}])*)\}/g, (_, text: string) => text.replace(/\\(.)/g, "$1"))
    .replaceAll("$0", "");
}

/** By the title of the usual sentence: the same about what the book has. */
function* ownBodies(names: BookNames): Generator<[title: string, body: readonly string[]]> {
  const subjects = [...names.subjects.values()];
  const picks = subjects.filter(({ thing, values }) => thing.kind !== "condition" && values.size > 0);
  const asked = subjects
    .filter(({ thing }) => thing.kind === "condition")
    .sort((a, b) => (names.tested.get(b.thing.name) ?? 0) - (names.tested.get(a.thing.name) ?? 0));
  const [test, other = test] = asked.flatMap((subject) => testOf(names, subject) ?? []);
  const scales = asked.filter((subject) => isScale(names, subject));
  const sets = asked.filter(
    (subject) => subject.node.kind === "condition" && (subject.node.domain?.kind === "set" || subject.node.domain?.kind === "scale"),
  );
  const [pick] = picks;
  if (asked.length > 1)
    yield ["Which condition settles a disagreement", [`trust ${choice(1, asked)} first, then ${place(2, asked[1]!.thing.name)}`]];
  if (test !== undefined) {
    yield ["Name a situation", [`situation ${place(1, firstFree(names, "half-light"))}: ${place(2, test)}`]];
    yield [
      "Say what never occurs",
      [`impossible when ${place(1, test === other ? test : `${test} and ${other}`)}`, '  because "${2:Never logged here.}"'],
    ];
    yield ["A caution", [`caution "\${1:Mind this}" when ${place(2, test)}`, '  say "${3:Wear a life jacket.}"']];
  }
  if (scales.length > 0)
    yield [
      "Something to judge on the way",
      [`judgement ${place(1, firstFree(names, "seen"))} "\${2:As the fish see it}": same as ${choice(3, scales)}`],
    ];
  const grouped = sets.find(({ values }) => values.size > 2);
  if (grouped) {
    const two = [...grouped.values]
      .filter(([, { kind }]) => kind !== "group")
      .slice(0, 2)
      .map(([name]) => name)
      .join(", ");
    yield [
      "Name several levels together",
      [`group ${place(1, grouped.thing.name)}: ${place(2, firstFree(names, "some"))} is ${place(3, two)}`],
    ];
  }
  if (!pick || test === undefined) return;
  const option = optionAsWritten(pick, [...pick.values.values()][0]!);
  const title = 'pattern "${1:The rule in one breath}"';
  yield [
    "A rule of thumb",
    [
      title,
      `  go with ${choice(2, picks)} ${place(3, option)}`,
      `  when ${place(4, test)}`,
      '  because "${5:Why, in a sentence for the customer.}"',
    ],
  ];
  yield [
    "A rule of thumb that only leans",
    [title, `  lean to ${choice(2, picks)} ${place(3, option)} by \${4:2}`, `  when ${place(5, test)}`],
  ];
  const rival = names.patterns.at(-1)?.title;
  if (rival !== undefined && rival !== "The rule in one breath")
    yield [
      "An exception",
      [title, `  go with ${choice(2, picks)} ${place(3, option)}`, `  when ${place(4, test)}`, `  beats "${place(5, rival)}"`],
    ];
  yield ["What to say when nothing else speaks", [`fall back on ${choice(1, picks)} ${place(2, option)}`]];
  yield [
    "Where this book gives no advice",
    [`say nothing on ${choice(1, picks)} when ${place(2, test)}`, '  because "${3:Closed by the county.}"'],
  ];
  yield ["Where nobody is to fish", [`say nothing on everything when ${place(1, test)}`, '  because "${2:Stay off.}"']];
  yield ["What must stay true", [`promise "\${1:Never that}": ${choice(2, picks)} must not be ${place(3, option)} when ${place(4, test)}`]];
}

function isScale(names: BookNames, subject: NamedSubject): boolean {
  const domain = domainOf(names, subject);
  return typeof domain === "object" && domain.kind === "scale" && isOrdered(names, subject);
}

/** A test that a condition can be asked: `clarity is muddy`, `cover has docks`. */
function testOf(names: BookNames, subject: NamedSubject): string | undefined {
  const domain = domainOf(names, subject);
  const value = [...subject.values.values()].find(({ kind }) => kind !== "group");
  if (typeof domain !== "object" || value === undefined) return undefined;
  return `${subject.thing.name} ${domain.kind === "set" ? "has" : "is"} ${value.name}`;
}

function firstFree(names: BookNames, base: string): string {
  const taken = (name: string): boolean => names.subjects.has(name) || names.situations.has(name);
  for (let n = 1; ; n++) {
    const name = n === 1 ? base : `${base}-${n}`;
    if (!taken(name)) return name;
  }
}

function place(n: number, text: string): string {
  return `\${${n}:${text.replace(/[\\$}]/g, "\\$&")}}`;
}

/** The first stands there unless another is chosen. */
function choice(n: number, [first, ...more]: readonly NamedSubject[]): string {
  return more.length === 0 ? place(n, first!.thing.name) : `\${${n}|${[first!, ...more].map(({ thing }) => thing.name).join(",")}|}`;
}
