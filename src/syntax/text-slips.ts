/** Texts without one of their quotation marks, or without both. `quotes.ts` has found the former; they are reported here. */
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import { breaks, isOne, made, type Mending } from "./mending.js";
import { longest } from "./nesting.js";
import { beforeTexts, opens } from "./quotes.js";
import { mending } from "./report.js";
import { isPlainClause } from "./starts.js";

/** A single quotation mark where no text is due is passed over. */
export function loneQuote({ tokens, report }: Mending, i: number): void {
  const [before, token] = [tokens[i - 1], tokens[i]];
  // Rubbish without end is not read anyway, and would take long to mend.
  if (tokens.length > longest) return;
  if (token?.tokenType !== T.UnclosedText || token.image.length > 1 || before === undefined || beforeTexts.includes(before.tokenType))
    return;
  report.add("syntax", tokenRange(token), syntaxWords.loneQuote());
  tokens.splice(i, 1);
}

/** A text that `quotes.ts` has put together again: its opening mark is lost, it goes on over several lines, or its end is known. */
export function lostQuote({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (token.tokenType !== T.UnclosedText || reported.has(token)) return;
  const { image } = token;
  const range = tokenRange(token);
  const hasOpening = opens(image);
  const next = tokens[i + 1];
  const isBroken = /[\r\n]/.test(image);
  if (hasOpening && !isBroken) {
    if (next === undefined || breaks(report, token, next)) return;
    reported.add(token);
    report.add("syntax", range, syntaxWords.unclosedBefore(image.slice(1), next.image), [
      mending(report.path, range, `"${image.slice(1)}"`, syntaxWords.closeIt()),
    ]);
    return;
  }
  reported.add(token);
  const written = image.replace(/^["“„]/, "").replace(/["”]$/, "");
  if (/["“„”]/.test(written)) report.add("syntax", range, syntaxWords.quotesInside());
  else if (hasOpening)
    report.add("syntax", range, syntaxWords.brokenText(), [
      mending(report.path, range, `"${written.replace(/\s+/g, " ")}"`, syntaxWords.onOneLine()),
    ]);
  else {
    const edits = [{ path: report.path, range: { start: range.start, end: range.start }, text: '"' }];
    if (image.endsWith("”")) edits.push({ path: report.path, range: { start: range.end - 1, end: range.end }, text: '"' });
    report.add("syntax", range, syntaxWords.unopened(written), [{ title: syntaxWords.openIt(), edits, mends: true }]);
  }
}

/** A title or reason without its quotation marks: it goes to the next clause, or to the end of the line. */
export function quoteText(at: Mending, i: number): void {
  const { tokens, reported, report } = at;
  const [token, first] = [tokens[i]!, tokens[i + 1]];
  if (
    !beforeTexts.includes(token.tokenType) ||
    first === undefined ||
    isOne(first, T.Text, T.ClauseStart, T.Colon, T.Comma) ||
    breaks(report, token, first)
  )
    return;
  const stops =
    token.tokenType === T.Promise
      ? [T.Colon]
      : [T.LeaveOut, T.See, T.Beats].includes(token.tokenType)
        ? [T.Comma]
        : token.tokenType === T.Book
          ? [T.Shop, T.Water, T.Edition]
          : [];
  let last = i + 1;
  while (
    tokens[last + 1] !== undefined &&
    !isOne(tokens[last + 1], T.Text, T.ClauseStart, ...stops) &&
    !breaks(report, tokens[last]!, tokens[last + 1]!)
  )
    last++;
  const start = first.startOffset;
  const limit = tokens[last + 1]?.startOffset ?? Infinity;
  const signs = at.strange.filter(
    (sign) =>
      sign.tokenType === T.Unknown &&
      sign.startOffset > start &&
      sign.startOffset < limit &&
      !/[\r\n]/.test(report.text.slice(start, sign.startOffset)),
  );
  const end = Math.max(tokenRange(tokens[last]!).end, ...signs.map((sign) => tokenRange(sign).end));
  const text = made(report, T.UnclosedText, { start, end });
  const quoted = (written: string): string => `"${written.replace(/\s+/g, " ")}"`;
  const readings = [quoted(text.image)];
  // `before they see it`: rather than a part of its own, but who knows?
  const other = tokens.slice(i + 2, last).find((token) => isPlainClause(token));
  if (other !== undefined) {
    const after = tokenRange(other).end;
    readings.push(
      `${quoted(report.text.slice(start, other.startOffset).trimEnd())} ${other.image} ${quoted(report.text.slice(after, end).trimStart())}`,
    );
  }
  report.add(
    "syntax",
    { start, end },
    syntaxWords.unquoted(text.image),
    readings.map((reading) =>
      mending(report.path, { start, end }, reading, other === undefined ? syntaxWords.quoteIt() : syntaxWords.writeInstead(reading)),
    ),
  );
  reported.add(text);
  at.strange = at.strange.filter((sign) => !signs.includes(sign));
  tokens.splice(i + 1, last - i, text);
}
