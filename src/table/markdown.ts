/** Tables as Markdown (GitHub Flavored Markdown, "Tables"): a heading and a table per pick, with reasons, the cautions at the end. */
import type { Answers } from "../analysis/answers.js";
import { say } from "../messages/table.js";
import { cautionWords, chartOf, headline } from "./chart.js";
import type { Table } from "./compile.js";

/** Ends in a line break. */
export function chartsMarkdown(answers: Answers, tables: readonly Table[]): string {
  const cautions = cautionWords(answers);
  const parts = [
    `# ${escaped(headline(answers.model))}`,
    ...tables.flatMap((table) => {
      const { title, across, head, lines, legend } = chartOf(table);
      const drawn = across === undefined
        ? tableOf([...head, say.because], lines.map(({ cells, because }) => [...cells, because.join(", ")]))
        : tableOf([`${head[0]!} \\ ${across}`, ...head.slice(1)], lines.map(({ cells }) => cells));
      return [`## ${escaped(title)}`, drawn, ...legend.map(escaped)];
    }),
    ...(cautions.length === 0 ? [] : [`## ${say.mindHeading}`, cautions.map((caution) => `- ${escaped(caution)}`).join("\n")]),
  ];
  return `${parts.join("\n\n")}\n`;
}

function tableOf(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(escaped).join(" | ")} |`;
  return [line(head), `|${" --- |".repeat(head.length)}`, ...rows.map(line)].join("\n");
}

/** Signs that Markdown or HTML would take for something else. */
function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>|#]/g, (sign) => `\\${sign}`).replace(/\s*\n\s*/g, " ");
}
