/**
 * Pieces of Markdown (CommonMark, and the tables and links of GitHub Flavored Markdown) from plain texts: whatever a book says is shown
 * as it is written.
 *
 *     "1. <b> & *mud*"              ──▶  1\. \<b\> \& \*mud\*
 *     "See https://y.example/a_b."  ──▶  See <https://y.example/a_b>.        an address is a link, in which nothing is escaped
 *
 * Our own escape and no library's: those write whole trees, twenty times this much for a bundle that starts with every command; a test
 * reads all of it back with a parser of Markdown.
 */

/** A text in one line, for a paragraph, an item or a heading; line ends become blanks. */
export function escaped(text: string): string {
  // At the start of a line these would begin a list, or be a rule.
  return inLine(text)
    .replace(/^[-+](?=[-\s]|$)/, "\\$&")
    .replace(/^\d+(?=[.)](?:\s|$))/, "$&\\");
}

export function bold(text: string): string {
  const words = escaped(text);
  return words === "" ? "" : `**${words}**`;
}

/** Code in a line; its fence is longer than any run of backticks in it. */
export function code(text: string): string {
  const fence = "`".repeat(1 + longestRun(text));
  const room = /^`|`$/.test(text) ? " " : "";
  return `${fence}${room}${text.replace(/\s*[\r\n]\s*/g, " ")}${room}${fence}`;
}

/** A block of the language. */
export function block(text: string): string {
  const fence = "`".repeat(Math.max(3, 1 + longestRun(text)));
  return `${fence}lore\n${text}\n${fence}`;
}

export function list(items: readonly string[]): string {
  return items.map((item) => `- ${item}`).join("\n");
}

/** A table of plain texts. */
export function tableOf(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(inLine).join(" | ")} |`;
  return [line(head), `|${" --- |".repeat(head.length)}`, ...rows.map(line)].join("\n");
}

/** One without a sign that ends a link or a cell, and without the end of the sentence it stands in. */
const address = /(https?:\/\/[^\s<>|\\\p{Cc}]*[^\s<>|\\\p{Cc}.,;:!?'"”’)\]*_~])/iu;

/** Where no line starts, as in a cell. */
function inLine(text: string): string {
  const line = text.replace(/\s*[\r\n]\s*/g, " ").trim();
  return line
    .split(address)
    .map((part, i) => (i % 2 === 1 ? `<${part}>` : signsEscaped(part)))
    .join("");
}

/** Signs that Markdown or HTML would take for something else; `:`, `@` and `.` only where they would make a link. */
function signsEscaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>|#~&$@]/g, (sign) => `\\${sign}`).replace(/(https?|www)(?=:|\.)/gi, "$1\\");
}

function longestRun(text: string): number {
  return Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
}
