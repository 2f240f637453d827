/**
 * Findings in the Static Analysis Results Interchange Format (SARIF) 2.1.0, an OASIS standard, for whatever collects results of checks.
 *
 *     rules      the kinds of findings, each with its hint page
 *     results    the findings: place, related places, fixes, and a fingerprint that outlives moved lines
 *
 * Section numbers below are those of the standard.
 */
import { createHash } from "node:crypto";
import { pathToFileURL } from "node:url";
import { severities, type Code, type Place } from "../../diagnostics.js";
import { formatWords } from "../../messages/ci.js";
import { editionKey, keyText } from "../../same-finding.js";
import { pageOf, version } from "../node/own-files.js";
import { jsonText } from "../node/terminal.js";
import type { RootedFinding } from "./checked.js";
import { linesOf, type Report } from "./report.js";

const SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
const codes = Object.keys(severities) as readonly Code[];

export function checkSarif(report: Report): string {
  const { findings, known, unreadable } = report;
  const results = [...findings.map((finding) => ({ finding, isKnown: false })), ...known.map((finding) => ({ finding, isKnown: true }))];
  const prints = fingerprints(
    results.map(({ finding }) => finding),
    report,
  );
  const log = {
    $schema: SCHEMA,
    version: "2.1.0",
    runs: [
      {
        tool: { driver: { name: "Waterlore", version: version(), rules: codes.map(rule) } },
        invocations: [
          {
            executionSuccessful: unreadable.length === 0,
            toolExecutionNotifications: unreadable.map(({ sentence }) => ({ level: "error", message: { text: sentence } })),
          },
        ],
        // § 3.14.27: the columns of this project count UTF-16 units.
        columnKind: "utf16CodeUnits",
        results: results.map(({ finding, isKnown }, at) => ({
          ruleId: finding.code,
          ruleIndex: codes.indexOf(finding.code),
          level: finding.severity,
          message: { text: withoutLink(formatWords.full(`${finding.title}. ${finding.message}`, finding.help)) },
          locations: [{ physicalLocation: physical(finding, report) }],
          relatedLocations: (finding.related ?? []).map((related, id) => ({
            id,
            physicalLocation: physical(related, report),
            message: { text: withoutLink(related.message) },
          })),
          fixes: (finding.fixes ?? []).map((fix) => ({ description: { text: fix.title }, artifactChanges: changes(fix.edits, report) })),
          partialFingerprints: { "findingKey/v1": prints[at] },
          ...(report.baseline && { baselineState: isKnown ? "unchanged" : "new" }),
          // § 3.35: a finding that is known is one that somebody decided, outside of the book, to live with.
          ...(isKnown && { suppressions: [{ kind: "external" }] }),
          properties: {
            pick: finding.pick,
            patterns: finding.patterns,
            where: finding.where,
            example: finding.example,
            share: finding.share,
          },
        })),
      },
    ],
  };
  return jsonText(log);
}

function rule(code: Code): object {
  const page = pageOf(code);
  const [heading, first] = page.split("\n\n", 2);
  return {
    id: code,
    shortDescription: { text: heading!.replace(/^# /, "") },
    fullDescription: { text: first!.replaceAll("\n", " ") },
    help: {
      text: withoutLinks(page)
        .replace(/^```\w*\n/gm, "")
        .replaceAll("`", ""),
      markdown: withoutLinks(page),
    },
    defaultConfiguration: { level: severities[code] },
  };
}

/** Links of a hint page lead to files beside it, which are not there where the report is read. */
function withoutLinks(page: string): string {
  return page.replace(/\[([^\]]*)\]\([^)]*\)/g, "$1");
}

/** § 3.11.6: `[words](target)` is a link in a message, and a book makes none. */
function withoutLink(text: string): string {
  return text.replace(/\[(?=[^\]]*\]\()/g, "\\[");
}

/** § 3.27.17. Findings that are alike in all that lasts are told apart by their order. */
function fingerprints(findings: readonly RootedFinding[], { texts }: Report): readonly string[] {
  const alike = new Map<string, number>();
  return findings.map((finding) => {
    const key = keyText(editionKey(finding, texts.get(finding.path)?.text ?? ""));
    const number = (alike.get(key) ?? 0) + 1;
    alike.set(key, number);
    return `${createHash("sha256").update(key).digest("hex").slice(0, 32)}:${number}`;
  });
}

function physical(place: Place, report: Report): object {
  return { artifactLocation: { uri: uriOf(place.path) }, region: regionOf(place, report) };
}

/** § 3.30. Lines and columns count from 1, and the end is the first column that is not part of it. */
function regionOf(place: Place, report: Report): object {
  const { start, end } = linesOf(place, report);
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

/** § 3.56: one change for each file. */
function changes(edits: readonly (Place & { readonly text: string })[], report: Report): readonly object[] {
  return [...new Set(edits.map(({ path }) => path))].map((path) => ({
    artifactLocation: { uri: uriOf(path) },
    replacements: edits
      .filter((edit) => edit.path === path)
      .map((edit) => ({ deletedRegion: regionOf(edit, report), insertedContent: { text: edit.text } })),
  }));
}

/** RFC 3986: relative where the path is. */
function uriOf(path: string): string {
  return /^(\/|[A-Za-z]:)/.test(path) ? pathToFileURL(path).href : path.split("/").map(encodeURIComponent).join("/");
}
