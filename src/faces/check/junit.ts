/**
 * Findings as JUnit XML, the form in which build servers take the results of tests.
 *
 *     <testsuites>  <testsuite name="rules/blades.lore">  <testcase name="gap">  <failure message="No blade is recommended"> …
 *
 * A book is a suite; in it every kind of finding is a case, which fails if something of that kind counts. What does not count is told
 * in the case all the same, and a case of which all is known is skipped. Several findings of a kind are one failure, because
 * readers keep only the first. There are no times, so that the same books give the same bytes. Attributes are those of the schema
 * that Jenkins publishes (xunit-plugin, junit-10.xsd).
 */
import { severities, type Code, type Finding } from "../../diagnostics.js";
import { formatWords } from "../../messages/ci.js";
import { markup } from "../../render/markup.js";
import { byText } from "../../text.js";
import { counts, placeOf, type Report } from "./report.js";

interface Case {
  readonly name: string;
  readonly outcome?: {
    readonly kind: "failure" | "error" | "skipped";
    readonly type?: string;
    readonly message: string;
    readonly text?: string;
  };
  /** What is told although it does not count. */
  readonly beside?: string;
}

interface Suite {
  readonly name: string;
  readonly cases: readonly Case[];
}

export function checkJunit(report: Report): string {
  const suites = suitesOf(report);
  const sums = totals(suites.flatMap(({ cases }) => cases));
  // Only a suite has `skipped` in that schema.
  const whole = element(
    "testsuites",
    { name: "waterlore", tests: sums.tests, failures: sums.failures, errors: sums.errors },
    suites.map(suiteXml),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${whole}\n`;
}

function suitesOf(report: Report): readonly Suite[] {
  const { books, findings, known, unreadable } = report;
  const paths = [...new Set([...books.map(({ path }) => path), ...[...findings, ...known].map(({ path }) => path)])].sort(byText);
  return [
    ...paths.map((path): Suite => ({ name: path, cases: (Object.keys(severities) as Code[]).map((code) => caseOf(code, path, report)) })),
    ...unreadable.map(({ path, sentence }): Suite => ({
      name: path,
      cases: [{ name: formatWords.unreadable, outcome: { kind: "error", type: "unreadable", message: sentence } }],
    })),
  ];
}

function caseOf(code: Code, path: string, report: Report): Case {
  const here = (finding: Finding): boolean => finding.code === code && finding.path === path;
  const found = report.findings.filter(here);
  const counting = found.filter((finding) => counts(finding, report.lowest));
  const beside = found.filter((finding) => !counts(finding, report.lowest));
  const known = report.known.filter(here);
  const told = (findings: readonly Finding[]): string => findings.map((finding) => findingText(finding, report)).join("\n\n");
  return {
    name: code,
    ...(counting.length > 0
      ? {
          outcome: { kind: "failure", type: code, message: formatWords.failures(counting.map(({ title }) => title)), text: told(counting) },
        }
      : known.length > 0 && beside.length === 0
        ? { outcome: { kind: "skipped", message: formatWords.failures(known.map(({ title }) => title)) } }
        : {}),
    ...(beside.length > 0 && { beside: told(beside) }),
  };
}

function findingText(finding: Finding, report: Report): string {
  const also = (finding.related ?? []).map((related) => formatWords.also(placeOf(related, report), related.message));
  return [
    formatWords.place(finding.severity, placeOf(finding, report), finding.title),
    finding.message,
    ...also,
    ...(finding.help === "" ? [] : [formatWords.next(finding.help)]),
  ].join("\n");
}

function totals(cases: readonly Case[]): {
  readonly tests: number;
  readonly failures: number;
  readonly errors: number;
  readonly skipped: number;
} {
  const count = (kind: string): number => cases.filter(({ outcome }) => outcome?.kind === kind).length;
  return { tests: cases.length, failures: count("failure"), errors: count("error"), skipped: count("skipped") };
}

function suiteXml({ name, cases }: Suite): string {
  return element(
    "testsuite",
    { name, ...totals(cases) },
    cases.map((one) => element("testcase", { name: one.name, classname: name }, insideXml(one))),
  );
}

function insideXml({ outcome, beside }: Case): readonly string[] {
  const inside: string[] = [];
  if (outcome) {
    const { kind, type, message, text } = outcome;
    inside.push(element(kind, { ...(type !== undefined && { type }), message }, text === undefined ? [] : [escaped(text)], ""));
  }
  if (beside !== undefined) inside.push(element("system-out", {}, [escaped(beside)], ""));
  return inside;
}

function element(name: string, attributes: Readonly<Record<string, string | number>>, inside: readonly string[], between = "\n"): string {
  const opened = [
    name,
    ...Object.entries(attributes).map(
      ([key, value]) => `${key}="${escaped(String(value)).replace(/[\t\n\r]/g, (sign) => `&#${sign.charCodeAt(0)};`)}"`,
    ),
  ].join(" ");
  return inside.length === 0 ? `<${opened}/>` : `<${opened}>${between}${inside.join(between)}${between}</${name}>`;
}

/** Control characters that XML has, and that would drive a terminal, are written as numbers. */
function escaped(text: string): string {
  return markup(text).replace(/[\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
