/** Tables as Markdown (GitHub Flavored Markdown, "Tables"): a heading and a table per pick, with reasons, the cautions at the end. */
import type { Answers } from "../analysis/answers.js";
import { tableWords } from "../messages/table.js";
import { sheetOf } from "./chart.js";
import { bold, escaped, list, tableOf } from "./markdown.js";
import type { Table } from "../table/compile.js";

/** Ends in a line break. */
export function chartsMarkdown(answers: Answers, tables: readonly Table[]): string {
  const { headline, closed, charts, legend, cautions } = sheetOf(answers, tables);
  const parts = [
    `# ${escaped(headline)}`,
    ...closed.map(bold),
    ...charts.flatMap(({ title, silences, across, head, lines }) => [
      `## ${escaped(title)}`,
      ...silences.map(escaped),
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
