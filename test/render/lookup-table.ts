/** A table as a web shop has it. */
import type { Answers } from "../../src/analysis/answers.js";
import type { Table } from "../../src/publish/lookup/lookup.js";
import { tableJson } from "../../src/render/json.js";
import { compile } from "../../src/table/compile.js";

/** Through text, as another program gets it. */
export function tableOf(found: Answers, picks: readonly number[]): Table {
  const compiled = compile(found, { picks });
  if ("problem" in compiled) throw new Error(compiled.problem);
  return JSON.parse(JSON.stringify(tableJson(found, compiled.table))) as Table;
}
