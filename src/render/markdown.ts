/** Markdown from plain texts (CommonMark; tables as GitHub has them): whatever a book says is shown as it is written. */

/** Signs that Markdown or HTML would take for something else. */
export function escaped(text: string): string {
  return text
    .replace(/[\\`*_{}[\]<>|#~&]/g, (sign) => `\\${sign}`)
    .replace(/^(\s*)([-+]|\d+[.)])(?=\s)/, "$1\\$2")
    .replace(/\s*[\r\n]\s*/g, " ");
}

export function bold(text: string): string {
  return `**${escaped(text)}**`;
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

export function tableOf(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(escaped).join(" | ")} |`;
  return [line(head), `|${" --- |".repeat(head.length)}`, ...rows.map(line)].join("\n");
}

function longestRun(text: string): number {
  return Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
}
