/** Tables as Markdown (GitHub Flavored Markdown, "Tables"): a heading and a table per pick, with reasons, the cautions at the end. */
import type { Answers } from "../analysis/answers.js";
import { tableWords } from "../messages/table.js";
import { sheetOf } from "./chart.js";
import { escaped, list, tableOf } from "./markdown.js";
import type { Table } from "../table/compile.js";

/** Ends in a line break. */
export function chartsMarkdown(answers: Answers, tables: readonly Table[]): string {
  const { headline, charts, legend, cautions } = sheetOf(answers, tables);
  const parts = [
    `# ${escaped(headline)}`,
    ...charts.flatMap(({ title, across, head, lines }) => [
      `## ${escaped(title)}`,
      across === undefined
        ? tableOf(
            [...head, tableWords.because],
            lines.map(({ cells, because }) => [...cells, because.join("; ")]),
          )
        : tableOf(
            [tableWords.byAcross(head[0]!, across), ...head.slice(1)],
            lines.map(({ cells }) => cells),
          ),
    ]),
    ...legend.map(escaped),
    ...(cautions.length === 0 ? [] : [`## ${tableWords.mindHeading}`, list(cautions.map(escaped))]),
  ];
  return `${parts.join("\n\n")}\n`;
}
