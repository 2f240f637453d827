/** The requests beyond the protocol: the table beside the book, and why it answers as it does. */
import { type Connection } from "vscode-languageserver";
import { answers } from "../../analysis/answers.js";
import { STEPS } from "../../analysis/analyse.js";
import { server as say } from "../../messages/server.js";
import { explainGiven } from "../../service/explained.js";
import { nextQuestions } from "../../service/questions.js";
import { bookTable, type TitledPlace } from "../../service/table.js";
import { locationOf, placesIn, type Places } from "./convert.js";
import type { Desk } from "./features.js";
import {
  ASK,
  EXPLAIN,
  TABLE,
  type AskAnswer,
  type AskParams,
  type ExplainAnswer,
  type ExplainParams,
  type Reason,
  type TableAnswer,
  type TableParams,
} from "./requests.js";
import type { BookSettings } from "./workshop.js";

export interface TableDesk extends Desk {
  readonly version: (uri: string) => number | undefined;
  readonly settings: (uri: string) => BookSettings | undefined;
}

export function bindTables(connection: Connection, desk: TableDesk): void {
  connection.onRequest(TABLE, async ({ textDocument: { uri }, picks }: TableParams): Promise<TableAnswer> => {
    try {
      if (desk.view(uri) === undefined) return { problem: say.notOpen };
      const view = await desk.whole(uri);
      const version = desk.version(uri);
      if (view?.analysis === undefined) return { version, problem: say.changed };
      if (view.model.picks.every(({ judgement }) => judgement)) return { version, problem: say.noTable };
      const places = placesIn(view, desk.uriOf);
      const { charts, ...rest } = bookTable(view.analysis.answers, { picks, steps: desk.steps(uri) });
      return {
        version,
        ...rest,
        charts: charts.map(({ rows, ...chart }) => ({
          ...chart,
          rows: rows.map((row) => ({ ...row, because: reasons(row.because, places) })),
        })),
      };
    } catch (error) {
      desk.fault(TABLE, error);
      return { problem: say.changed };
    }
  });
  connection.onRequest(ASK, async ({ textDocument: { uri }, given, unknown }: AskParams): Promise<AskAnswer> => {
    try {
      if (desk.view(uri) === undefined) return { problem: say.notOpen };
      const view = await desk.whole(uri);
      const version = desk.version(uri);
      if (view?.analysis === undefined) return { version, problem: say.changed };
      return { version, ...nextQuestions(view.analysis.answers, given, { unknown, steps: desk.steps(uri) }) };
    } catch (error) {
      desk.fault(ASK, error);
      return { problem: say.changed };
    }
  });
  connection.onRequest(EXPLAIN, async ({ textDocument: { uri }, given }: ExplainParams): Promise<ExplainAnswer> => {
    try {
      const view = desk.view(uri);
      if (view === undefined) return { problem: say.notOpen };
      const version = desk.version(uri);
      const { steps = STEPS, day, daySet } = desk.settings(uri) ?? {};
      const explained = explainGiven(view.model, () => view.analysis?.answers ?? answers(view.model, { steps }), given, {
        steps,
        ...(daySet && { day, dayFrom: say.daySetting }),
      });
      return "problem" in explained
        ? { version, ...explained }
        : { version, ...explained, because: reasons(explained.because, placesIn(view, desk.uriOf)) };
    } catch (error) {
      desk.fault(EXPLAIN, error);
      return { problem: say.changed };
    }
  });
}

function reasons(because: readonly TitledPlace[], places: Places): Reason[] {
  return because.flatMap(({ title, ...place }) => locationOf(place, places).map((location) => ({ title, ...location })));
}
