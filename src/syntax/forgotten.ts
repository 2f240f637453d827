/**
 * Words that were forgotten, and a hyphen:
 *
 *   weight 1/4 oz   → go with weight 1/4 oz      cover has brush   → when cover has brush      water temp is cold   → water-temp is cold
 *
 * Each is looked for only where what stands there could not be read at all: what is declared elsewhere is asked (`Report.declares`).
 */
import type { IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { plainName } from "../lookalikes.js";
import { syntaxWords } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import { breaks, ends, isOne, made, type Mending } from "./mending.js";
import { rewrite, type Report } from "./report.js";

const actions = [T.GoWith, T.LeanTo, T.LeanOff, T.Never, T.Move] as const;

/** `weight 1/4 oz` on a line of its own: `go with` was forgotten, where the pattern says nothing but `go with`. */
export function noVerb({ tokens, reported, report }: Mending, i: number): void {
  const [before, pick, option, after] = [tokens[i - 1], tokens[i]!, tokens[i + 1], tokens[i + 2]];
  if (
    tokens[0]!.tokenType !== T.Pattern ||
    !beginsLine(report, before, pick) ||
    !isOne(pick, T.Name) ||
    breaks(report, pick, option ?? pick)
  )
    return;
  if (!(option?.tokenType === T.Name || isOne(option, T.Number, T.ClosedText)) || !report.declaresPick(plainName(pick.image))) return;
  const end = isOne(option, T.Number) && isOne(after, T.Unit, T.Name) && !breaks(report, option!, after!) ? i + 3 : i + 2;
  const next = tokens[end];
  if (next !== undefined && !isOne(next, T.Comma, T.Then, T.Or, T.ClauseStart) && !breaks(report, tokens[end - 1]!, next)) return;
  if (tokens.some((token) => isOne(token, ...actions) && token.tokenType !== T.GoWith)) return;
  const start = { start: pick.startOffset, end: pick.startOffset };
  const written = report.text.slice(start.start, tokenRange(tokens[end - 1]!).end);
  report.add("syntax", { start: start.start, end: start.start + written.length }, syntaxWords.noVerb(written), [
    rewrite(report.path, start, "go with ", syntaxWords.writeInstead(`go with ${written}`)),
  ]);
  const verb = made(report, T.GoWith, start);
  reported.add(verb);
  tokens.splice(i, 0, verb);
}

/** `cover has brush` on a line of its own: `when` was forgotten, where the statement has none yet. */
export function noWhen({ tokens, reported, report }: Mending, i: number): void {
  const [before, subject, relation] = [tokens[i - 1], tokens[i]!, tokens[i + 1]];
  if (
    !isOne(tokens[0], T.Pattern, T.Caution, T.Promise, T.SayNothingOn) ||
    !isOne(subject, T.Name) ||
    !isOne(relation, T.RelationStart) ||
    !beginsLine(report, before, subject)
  )
    return;
  if (tokens.some((token) => token.tokenType === T.When || token.image.toLowerCase() === "unless") || breaks(report, subject, relation!))
    return;
  const start = { start: subject.startOffset, end: subject.startOffset };
  const written = `${subject.image} ${relation!.image}`;
  report.add("syntax", { start: start.start, end: tokenRange(relation!).end }, syntaxWords.noWhen(written), [
    rewrite(report.path, start, "when ", syntaxWords.writeInstead(`when ${written} …`)),
  ]);
  const when = made(report, T.When, start);
  reported.add(when);
  tokens.splice(i, 0, when);
}

/** May a new clause begin with this token, at the beginning of a line? */
function beginsLine(report: Report, before: IToken | undefined, token: IToken): boolean {
  return before !== undefined && ends(before) && before.tokenType !== T.UnclosedText && breaks(report, before, token);
}

/** `water temp is cold`: a name of two words, written without its hyphen, where two names in a row make no sense. */
export function joinedName({ tokens, reported, report }: Mending, i: number): void {
  const [before, first, second, after] = [tokens[i - 1], tokens[i]!, tokens[i + 1], tokens[i + 2]];
  if (!isOne(first, T.Name) || !isOne(second, T.Name) || breaks(report, first, second!)) return;
  const isOption = isOne(before, T.Name) && isOne(tokens[i - 2], ...actions, T.FallBackOn) && tokens[i - 2]!.tokenType !== T.Move;
  if (!isOne(after, T.RelationStart) && !isOption && !isOne(before, T.Then, T.Or, T.Is, T.IsNot)) return;
  const meant = [`${first.image}-${second!.image}`, `${first.image}${second!.image}`].map(plainName).find(report.declares);
  if (meant === undefined) return;
  const range = { start: first.startOffset, end: tokenRange(second!).end };
  const token = { ...made(report, T.Name, range), payload: meant };
  report.add("name", range, syntaxWords.joinedName(token.image, meant), [
    rewrite(report.path, range, meant, syntaxWords.writeInstead(meant)),
  ]);
  reported.add(token);
  tokens.splice(i, 2, token);
}
