/**
 * `waterlore check`: what is wrong in books.
 *
 *     paths ──▶ sources ──▶ checked ──severities──▶ graded ──known findings──▶ report ──▶ text, JSON, SARIF, JUnit, GitHub
 */
import { resolve } from "node:path";
import { checkNotes, checkRefusals } from "../../../messages/ci.js";
import { commandNotes, commandRefusals } from "../../../messages/cli.js";
import { noteGone, readBaseline, sortOut, writeBaseline } from "../../check/baseline.js";
import { checkBooks, countOf, type Checked, type RootedFinding } from "../../check/checked.js";
import type { CoverageByDays } from "../../check/days.js";
import { checkGithub } from "../../check/github.js";
import { checkJson } from "../../check/json.js";
import { checkJunit } from "../../check/junit.js";
import { counts, type Report } from "../../check/report.js";
import { checkSarif } from "../../check/sarif.js";
import { checkSettingsOf, type CheckOptions, type CheckSettings } from "../../check/settings.js";
import { checkText } from "../../check/text.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { filesMatching, findBooks } from "../../node/find-books.js";
import { progressOn } from "../../node/progress.js";
import { reader, STDIN } from "../../node/read.js";
import { openBook, type Source, type StdinOption } from "../../node/source.js";
import { note, print } from "../../node/streams.js";
import { terminalOf } from "../../node/terminal.js";
import { replaceText } from "../../node/write.js";

export async function checkCommand(paths: readonly string[], options: CheckOptions, words: readonly string[]): Promise<ExitCode> {
  const settings = await checkSettingsOf(paths, options);
  if (options.fix && settings.paths.includes(STDIN)) throw new CannotRun(commandRefusals.fixStdin);
  if (options.watch) return (await import("../watch.js")).watch(settings, options, words);
  const { sources, unreadable } = await open(settings, options);
  for (const { sentence } of unreadable) note(sentence);
  const books = options.fix ? await mendAll(sources) : sources;
  const { on, steps, cache } = settings;
  const checked = graded(
    await checkBooks(books, reader(books.map(({ path }) => path)), { on, steps, cache, progress: progressOn(process.stderr) }),
    settings,
  );
  // A process that watches wants to know which books to look at.
  process.send?.([...checked.texts.keys()].map((path) => resolve(path)));
  const byDays = await weighed(books, settings, options);
  const report: Report = {
    ...checked,
    ...(byDays && { coverage: byDays.coverage, log: byDays.log }),
    ...(await sorted(checked, settings, options)),
    unreadable,
    lowest: settings.lowest,
  };
  if (sources.length > 0 || isForCollectors(options)) print(reportText(report, options));
  return byDays?.complete === false ? 2 : exitOf(report, settings);
}

/** Coverage by a log of days, where one is given: its columns are the conditions of one book. */
async function weighed(
  books: readonly Source[],
  { on, steps }: CheckSettings,
  { days }: CheckOptions,
): Promise<CoverageByDays | undefined> {
  if (days === undefined) return undefined;
  const [book] = books;
  if (book === undefined) return undefined;
  if (books.length > 1) throw new CannotRun(commandRefusals.daysOfOneBook);
  return (await import("../../check/days.js")).coverageByDays(book, days, { on, ...(steps !== undefined && { steps }) });
}

/** The books that are to be checked, opened. */
async function open(
  settings: CheckSettings,
  options: StdinOption,
): Promise<{ readonly sources: readonly Source[]; readonly unreadable: Report["unreadable"] }> {
  const { from, except, exceptFrom } = settings.look;
  const { books, missing } = await findBooks(settings.paths, {
    from,
    except: except.length > 0 ? await filesMatching(except, exceptFrom) : undefined,
  });
  if (books.length === 0 && missing.length === 0) throw new CannotRun(checkRefusals.noneLeft);
  const sources: Source[] = [];
  const unreadable: Report["unreadable"][number][] = missing.map(({ path, problem }) => ({
    path,
    sentence: commandRefusals.cannotRead(path, problem),
  }));
  for (const path of books) {
    const opened = openBook(path, options);
    if ("problem" in opened) unreadable.push({ path, sentence: opened.problem });
    else sources.push(opened);
  }
  return { sources, unreadable };
}

/** Every finding as grave as the settings say, without those that are off. */
function graded(checked: Checked, { severities }: CheckSettings): Checked {
  const findings = checked.findings.flatMap((finding): readonly RootedFinding[] => {
    const severity = severities[finding.code] ?? finding.severity;
    return severity === "off" ? [] : [{ ...finding, severity }];
  });
  return { ...checked, findings };
}

/** What is known apart from what counts. Whoever writes down what is known knows all of it. */
async function sorted(
  checked: Checked,
  { baseline }: CheckSettings,
  { writeBaseline: writes }: CheckOptions,
): Promise<Pick<Report, "findings" | "known" | "baseline">> {
  if (baseline === undefined) return { findings: checked.findings, known: [], baseline: false };
  const before = await readBaseline(baseline, { orNone: writes ?? false });
  const parted = sortOut(checked, before, baseline);
  if (writes) {
    writeBaseline(baseline, parted);
    return { findings: [], known: checked.findings, baseline: true };
  }
  noteGone(parted.gone, baseline);
  return { ...parted, baseline: true };
}

function reportText(report: Report, { format, coverage }: CheckOptions): string {
  switch (format) {
    case "text":
      return checkText(report, terminalOf(process.stdout), { coverage: coverage ?? false });
    case "json":
      return checkJson(report);
    case "sarif":
      return checkSarif(report);
    case "junit":
      return checkJunit(report);
    case "github":
      return checkGithub(report);
  }
}

/** A program that collects reports must find one even of books that could not be read: an empty file would tell it nothing. */
function isForCollectors({ format }: CheckOptions): boolean {
  return format !== "text" && format !== "json";
}

function exitOf(report: Report, { lowest, mostWarnings = Infinity }: CheckSettings): ExitCode {
  const { warning } = countOf(report);
  if (warning > mostWarnings) note(checkNotes.tooManyWarnings(warning, mostWarnings));
  if (report.unreadable.length > 0) return 2;
  return warning > mostWarnings || report.findings.some((finding) => counts(finding, lowest)) ? 1 : 0;
}

/** Books as they are after mending, each written back; one that cannot be written stays as it was. */
async function mendAll(sources: readonly Source[]): Promise<readonly Source[]> {
  const { mend } = await import("../../check/mend.js");
  let made = 0;
  const mended = sources.map((source) => {
    const { text, changes } = mend(source, reader([source.path]));
    if (changes.length === 0) return source;
    const problem = replaceText(source.path, source.text, text);
    if (problem !== undefined) {
      note(commandRefusals.cannotWrite(source.path, problem));
      return source;
    }
    for (const { line, title } of changes) note(commandNotes.fixed(source.path, line, title));
    made += changes.length;
    return { ...source, text };
  });
  note(commandNotes.fixedSummary(made));
  return mended;
}
