/**
 * The requests beyond the protocol: the table beside the book, why it answers as it does, and how the book stands.
 *
 * Each is worked out in pieces, between which other requests are answered, and given up where the client takes it back or the book has
 * changed meanwhile.
 */
import { LSPErrorCodes, ResponseError, type CancellationToken, type Connection, type TextDocumentIdentifier } from "vscode-languageserver";
import { STEPS, type Analysis } from "../../analysis/analyse.js";
import { serverWords } from "../../messages/server.js";
import { sayExample, sayPercent } from "../../messages/words.js";
import { pack } from "../../publish/pack.js";
import { factsOf, recommends } from "../../publish/site.js";
import { explainingGiven } from "../../service/explained.js";
import { findingQuestions } from "../../service/questions.js";
import { standingOf, type Standing } from "../../service/standing.js";
import { subjectAt } from "../../service/subject.js";
import { makingTable, type TitledPlace } from "../../service/table.js";
import type { View } from "../../service/view.js";
import { locationOf, offsetAt, placesIn, type PositionsIn } from "./convert.js";
import type { Session } from "./features/session.js";
import { inPieces } from "./pieces.js";
import {
  ASK,
  EXPLAIN,
  PAGE,
  STANDING,
  SUBJECT,
  TABLE,
  type AskAnswer,
  type AskParams,
  type ExplainAnswer,
  type ExplainParams,
  type PageAnswer,
  type PageParams,
  type Reason,
  type StandingAnswer,
  type StandingParams,
  type SubjectAnswer,
  type SubjectParams,
  type TableAnswer,
  type TableChart,
  type TableParams,
  type TableRow,
} from "./requests.js";
import type { Answering } from "./schedule.js";
import type { BookSettings } from "./settings.js";

export interface TableSession extends Session {
  readonly settings: (uri: string) => BookSettings | undefined;
}

export function bindTables(connection: Connection, session: TableSession): void {
  const analysed = async (uri: string): Promise<Analysed | undefined> => {
    const view = await session.whole(uri);
    return view?.analysis && { ...view, analysis: view.analysis };
  };
  connection.onRequest<TableAnswer, void>(TABLE, bound(session, TABLE, session.answered, makeTable));
  connection.onRequest<AskAnswer, void>(ASK, bound(session, ASK, session.answered, findQuestions));
  connection.onRequest<StandingAnswer, void>(
    STANDING,
    bound<StandingParams, StandingAnswer, Analysed>(session, STANDING, analysed, sayStanding),
  );
  connection.onRequest<PageAnswer, void>(PAGE, bound(session, PAGE, session.view, makePage));
  connection.onRequest<SubjectAnswer, void>(SUBJECT, bound(session, SUBJECT, session.view, sayingSubject));
  connection.onRequest<ExplainAnswer, void>(EXPLAIN, bound(session, EXPLAIN, session.answered, explainAnswer));
}

/** A book that has its analysis. */
type Analysed = View & { readonly analysis: Analysis };

function* makeTable(session: TableSession, view: Answering, { textDocument: { uri }, picks }: TableParams): Generator<void, TableAnswer> {
  if (view.model.picks.every(({ judgement }) => judgement)) return { problem: serverWords.noTable };
  const { charts, ...rest } = yield* makingTable(view.answers, { picks, steps: session.steps(uri) });
  const places = placesIn(view, session.uriOf);
  const told: TableChart[] = [];
  for (const { rows, ...chart } of charts) {
    const made: TableRow[] = [];
    for (const row of rows) {
      made.push({ ...row, because: reasons(row.because, places) });
      yield;
    }
    told.push({ ...chart, rows: made });
  }
  return { ...rest, charts: told };
}

function* makePage(session: TableSession, view: View, { textDocument: { uri } }: PageParams): Generator<void, PageAnswer> {
  yield;
  if (!recommends(view)) return { problem: serverWords.noTable };
  const draft = view.findings.some(({ severity }) => severity === "error");
  return { facts: factsOf(view.model, { on: session.settings(uri)?.day ?? "", draft }), packed: pack(view.model) };
}

function* sayingSubject(_: TableSession, view: View, { position }: SubjectParams): Generator<void, SubjectAnswer> {
  yield;
  return subjectAt(view, offsetAt(view.lines, position));
}

function findQuestions(
  session: TableSession,
  { answers }: Answering,
  { textDocument: { uri }, given, unknown }: AskParams,
): Generator<void, AskAnswer> {
  return findingQuestions(answers, given, { unknown, steps: session.steps(uri) });
}

function* sayStanding(session: TableSession, view: Analysed): Generator<void, StandingAnswer> {
  yield;
  return told(standingOf(view), placesIn(view, session.uriOf));
}

function* explainAnswer(
  session: TableSession,
  view: Answering,
  { textDocument: { uri }, given }: ExplainParams,
): Generator<void, ExplainAnswer> {
  const { steps = STEPS, day, daySet } = session.settings(uri) ?? {};
  const explained = yield* explainingGiven(view.answers, given, { steps, ...(daySet && { day, dayFrom: serverWords.daySetting }) });
  return "problem" in explained ? explained : { ...explained, because: reasons(explained.because, placesIn(view, session.uriOf)) };
}

/** A handler for requests about one open book: what `work` comes to, with the version of the text it is about. */
function bound<P extends { readonly textDocument: TextDocumentIdentifier }, R extends { readonly problem?: string }, V extends View>(
  session: TableSession,
  what: string,
  viewOf: (uri: string) => V | undefined | Promise<V | undefined>,
  work: (session: TableSession, view: V, params: P) => Generator<void, R>,
): (params: P, token: CancellationToken) => Promise<Answer<R>> {
  return async (params, token) => {
    const { uri } = params.textDocument;
    try {
      if (session.view(uri) === undefined) return { problem: serverWords.notOpen };
      const view = await viewOf(uri);
      const version = session.version(uri);
      const stopped = (): boolean => token.isCancellationRequested || session.view(uri)?.model !== view?.model;
      const found = view && (await session.ahead(() => inPieces(work(session, view, params), { pause: session.pause, stopped })));
      if (token.isCancellationRequested) return new ResponseError<void>(LSPErrorCodes.RequestCancelled, what);
      return found === undefined ? { version, problem: serverWords.changed } : { version, ...found };
    } catch (error) {
      session.fault(what, error);
      return { problem: serverWords.changed };
    }
  };
}

type Answer<R> = R | { readonly version?: number; readonly problem: string } | ResponseError;

function told({ picks, answered, open, promises }: Standing, places: PositionsIn): StandingAnswer {
  const [first] = open;
  const [next] = first ? locationOf(first, places) : [];
  return {
    ...(picks.length > 0 && { answered: sayPercent(answered) }),
    picks: picks.map((pick) => ({ label: pick.label, answered: sayPercent(pick.answered) })),
    open: open.length,
    ...(next && { next: { ...next, title: first!.title } }),
    promises: promises.flatMap(({ title, place, state }) =>
      locationOf(place, places).map((location) => ({
        ...location,
        title,
        state: state.kind,
        ...(state.kind === "fails" && { example: sayExample(state.example) }),
      })),
    ),
  };
}

function reasons(because: readonly TitledPlace[], places: PositionsIn): Reason[] {
  return because.flatMap(({ title, ...place }) => locationOf(place, places).map((location) => ({ title, ...location })));
}
