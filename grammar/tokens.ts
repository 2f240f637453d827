/**
 * Every word of the language, once.
 *
 *   go with blade colorado, then indiana      -- thump
 *   └─────┘ └───┘ └──────┘│ └──┘ └─────┘      └──────┘
 *   phrase  name    name  , word   name       comment
 *
 * A phrase of several words is one token, with any blanks between its words: so `sun`, `back` or `first` alone stay free as names.
 * A word that matters in a single spot (`shop`, `up`, `first` …) is a token that the parser also takes for a name.
 *
 * Decisions: blanks and line ends mean nothing; a quoted text ends on its line and has no escapes (whoever needs a quote mark
 * inside takes “ ” or '); an unclosed one swallows the rest of its line. What people write instead of a word (`Fall Back`,
 * `judgment`, `april 15`, `½`) becomes the same token, and `spelling.ts` reports it: a slip of the pen damages nothing else.
 */
import { createToken, Lexer, type CustomPatternMatcherReturn, type TokenType } from "chevrotain";

/** What a word does; the editors color by this. */
export type Role = "statement" | "clause" | "relation" | "joining" | "free";

export interface Word {
  readonly token: TokenType;
  /** As it is written: `go with`. */
  readonly phrase: string;
  readonly role: Role;
  /** What people write instead; read as this word, and reported. */
  readonly instead: readonly string[];
}

/** Signs that do not show are taken into a name, so that they can be found there: joiners, which some scripts need, and those that none does. */
export const namePart = "[\\p{L}\\p{M}\\p{N}\\u200b-\\u200d\\u00ad\\u2060]";
/** What goes on as a name. Looked for once, here: as a lookahead in each of some eighty patterns it would cost a tenth of a second to compile. */
const more = new RegExp(`-?${namePart}`, "uy");

/** Units that are not plain lower-case words; the others (`ft`, `oz` …) are names to the parser. */
export const unitSymbols = ["°F", "°C", "F", "C", "m/s", "ft/s", "km/h", "m³/s", "m3/s", "inHg", "hPa", "NTU", "%"] as const;

/** How a token is written, as a regular expression with the `u` flag. */
export interface Source {
  readonly pattern: string;
  /** Capitals or not. */
  readonly anyCase: boolean;
}

const all: TokenType[] = [];
const wordList: Word[] = [];
const sourceList = new Map<TokenType, Source>();

// Kinds of words: never in a text themselves ------------------------------------------------------------------------------

export const StatementStart = abstract("StatementStart");
export const ClauseStart = abstract("ClauseStart");
/** Follows the subject of a test. */
export const RelationStart = abstract("RelationStart");
/** A lower-case word with hyphens; also every free word. */
export const Name = token("Name", `\\p{L}${namePart}*(?:-${namePart}+)*`, { start: letters(), register: false });

// Out of the parser's sight -----------------------------------------------------------------------------------------------

export const Comment = token("Comment", "--[^\\r\\n]*", { start: ["-"], group: "comments" });
/** What people write instead of two hyphens: a word processor's long dash anywhere; `#` and `//` where a line begins, but no `#2`. */
export const ForeignComment = token("ForeignComment", "(?:[—―]|(?<=(?:^|[\\r\\n\\uFEFF])[ \\t]*)(?:#(?!\\d)|//))[^\\r\\n]*", {
  start: ["—", "―", "#", "/"],
  group: "unknown",
});
token("Blank", "[\\s\\uFEFF]+", { start: blanks(), group: Lexer.SKIPPED });

// Literals ----------------------------------------------------------------------------------------------------------------

/** `than 4"`: inches, right after a number where a value is due; after any other word it may end a text that lost its other mark. */
const beforeValues = "than|is|or|to|from|least|most|above|below|over|under";
export const InchMark = token("InchMark", `(?<=\\b(?:${beforeValues})\\s+[\\d./]+)["”″]`, { start: ['"', "”", "″"], group: "unknown" });
export const Text = abstract("Text");
export const ClosedText = token("ClosedText", '"[^"\\r\\n]*"', { start: ['"'], categories: [Text] });
export const CurlyText = token("CurlyText", '[“„][^“”"\\r\\n]*[”“]', { start: ["“", "„"], categories: [Text] });
export const UnclosedText = token("UnclosedText", '["“„](?:[^"\\r\\n]*[^"\\s])?', { start: ['"', "“", "„"], categories: [Text] });

const monthNames =
  "(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)";
const numberEnd = "(?![\\d/:]|[-.]\\d)";
export const Day = token(
  "Day",
  `${monthNames}\\.?[ \\t]+\\d{1,2}(?:(?:st|nd|rd|th)(?![a-z]))?${numberEnd}|\\d{1,2}(?:st|nd|rd|th)?\\.?[ \\t]+${monthNames}`,
  { start: [..."jfmasondJFMASOND", ...digits()], anyCase: true },
);
export const Date = token("Date", "\\d{1,4}([-/.])\\d{1,2}\\1\\d{1,4}(?![\\d])", { start: digits() });
export const Time = token("Time", "\\d{1,2}:\\d{2}(?![\\d:])(?:[ \\t]*[ap]\\.?m\\.?(?![a-z]))?", { start: digits(), anyCase: true });
const fractions = "¼½¾⅛⅜⅝⅞";
export const Number = token(
  "Number",
  `[-−–]?(?:\\d{1,3}(?:,\\d{3})+(?![\\d,])|\\d+[ \\t]+\\d+/\\d+|\\d+/\\d+|\\d+(?:\\.\\d+)?[ \\t]?[${fractions}]|\\d+(?:\\.\\d+)?|\\.\\d+|[${fractions}])`,
  { start: [...digits(), "-", "−", "–", ".", ...fractions] },
);
export const Unit = token("Unit", "°(?:[ \\t]?[FCKfc](?!\\p{L}))?|[%‰]|\\p{L}[\\p{L}\\p{N}]*/\\p{L}+|(?:[FC]|inHg|hPa|NTU)", {
  start: ["°", "%", "‰", ...letters()],
});

export const Colon = token("Colon", ":", { start: [":"] });
export const Comma = token("Comma", ",", { start: [","] });
export const Open = token("Open", "\\(", { start: ["("] });
export const Close = token("Close", "\\)", { start: [")"] });

// Words that start a statement --------------------------------------------------------------------------------------------

export const Book = word("Book", "book", "statement");
export const BuildsOn = word("BuildsOn", "builds on", "statement", ["builds upon", "build on"]);
export const LeaveOut = word("LeaveOut", "leave out", "statement", ["leaves out"]);
export const Add = word("Add", "add", "statement");
export const Condition = word("Condition", "condition", "statement");
export const Band = word("Band", "band", "statement");
export const Group = word("Group", "group", "statement");
export const Situation = word("Situation", "situation", "statement");
export const Impossible = word("Impossible", "impossible", "statement");
export const Pick = word("Pick", "pick", "statement");
export const Judgement = word("Judgement", "judgement", "statement", ["judgment"]);
export const TrustFor = word("TrustFor", "trust for", "statement");
export const Trust = word("Trust", "trust", "statement");
export const Pattern = word("Pattern", "pattern", "statement");
export const FallBackOn = word("FallBackOn", "fall back on", "statement", ["fall back to", "fall back"]);
export const SayNothingOn = word("SayNothingOn", "say nothing on", "statement", ["say nothing about", "say nothing"]);
export const Caution = word("Caution", "caution", "statement");
export const Promise = word("Promise", "promise", "statement");

// Words that start a clause of a statement ----------------------------------------------------------------------------------

export const Shop = word("Shop", "shop", "free");
export const Water = word("Water", "water", "free");
export const Edition = word("Edition", "edition", "free");
export const GoodFrom = word("GoodFrom", "good from", "clause");
export const RisingIs = word("RisingIs", "rising is", "clause");
export const FallingIs = word("FallingIs", "falling is", "joining");
export const Ask = word("Ask", "ask", "clause");
export const FilledFromThe = word("FilledFromThe", "filled from the", "clause", ["filled from"]);
export const OnlyWhen = word("OnlyWhen", "only when", "clause");
export const GoWith = word("GoWith", "go with", "clause");
export const LeanTo = word("LeanTo", "lean to", "clause", ["lean towards", "lean toward"]);
export const LeanOff = word("LeanOff", "lean off", "clause", ["lean away from"]);
export const Never = word("Never", "never", "clause");
export const Move = word("Move", "move", "clause");
export const When = word("When", "when", "clause", ["whenever", "if"]);
export const Because = word("Because", "because", "clause");
export const See = word("See", "see", "clause");
export const Checked = word("Checked", "checked", "clause");
export const Until = word("Until", "until", "clause");
export const Beats = word("Beats", "beats", "clause");
export const Say = word("Say", "say", "clause");

// What a condition can be ---------------------------------------------------------------------------------------------------

export const InOrder = word("InOrder", "in order", "joining");
export const AnyOf = word("AnyOf", "any of", "joining");
export const AtLeastOne = word("AtLeastOne", "at least one", "joining");
export const ToTheNearest = word("ToTheNearest", "to the nearest", "joining");
export const DaysOfTheYear = word("DaysOfTheYear", "days of the year", "joining");
export const TimesOfTheDay = word("TimesOfTheDay", "times of the day", "joining");
export const SameAs = word("SameAs", "same as", "joining");
export const Below = word("Below", "below", "free");
export const TheDate = word("TheDate", "date", "free");
export const TheClock = word("TheClock", "clock", "free");
export const TheSun = word("TheSun", "sun", "free");
export const TheMoon = word("TheMoon", "moon", "free");

// What a test says of its subject ---------------------------------------------------------------------------------------------

export const IsAtLeast = word("IsAtLeast", "is at least", "relation");
export const IsAtMost = word("IsAtMost", "is at most", "relation");
export const IsAbove = word("IsAbove", "is above", "relation");
export const IsBelow = word("IsBelow", "is below", "relation");
export const IsNeither = word("IsNeither", "is neither", "relation");
export const IsNot = word("IsNot", "is not", "relation", ["isn't"]);
export const IsNotEmpty = word("IsNotEmpty", "is not empty", "relation", ["isn't empty"]);
export const IsEmpty = word("IsEmpty", "is empty", "relation");
export const IsFrom = word("IsFrom", "is from", "relation");
export const Is = word("Is", "is", "relation");
export const HasAnyOf = word("HasAnyOf", "has any of", "relation");
export const HasAllOf = word("HasAllOf", "has all of", "relation");
export const HasNo = word("HasNo", "has no", "relation", ["has none of"]);
export const Has = word("Has", "has", "relation");
export const Only = word("Only", "only", "relation");
export const From = word("From", "from", "relation");
export const MustNotBe = word("MustNotBe", "must not be", "joining");
export const MustBe = word("MustBe", "must be", "joining");
export const MustHaveAnAnswer = word("MustHaveAnAnswer", "must have an answer", "joining");
export const MustHaveNoAnswer = word("MustHaveNoAnswer", "must have no answer", "joining", ["must not have an answer"]);

// Small words ---------------------------------------------------------------------------------------------------------------

export const To = word("To", "to", "joining");
export const Than = word("Than", "than", "joining");
export const And = word("And", "and", "joining");
export const Or = word("Or", "or", "joining");
export const Nor = word("Nor", "nor", "joining");
export const Not = word("Not", "not", "joining");
export const Then = word("Then", "then", "joining");
export const By = word("By", "by", "joining");
export const First = word("First", "first", "free");
export const Up = word("Up", "up", "free");
export const Down = word("Down", "down", "free");
export const Everything = word("Everything", "everything", "free");

// Names come after every word; a name in capitals is reported, not refused --------------------------------------------------------

all.push(Name);
/** Anything else: reported, and out of the parser's sight. */
export const Unknown = token("Unknown", `[^\\s\\p{L}\\p{N}"“„(),:°%‰—―-]+|[\\s\\S]`, { group: "unknown", anyStart: true });

/** All words, in the order of the list above. */
export const words: readonly Word[] = wordList;
export const wordOf: ReadonlyMap<TokenType, Word> = new Map(wordList.map((entry) => [entry.token, entry]));
/** Every two words that stand side by side in a phrase, or in what people write instead of one. */
export const pairs: ReadonlySet<string> = new Set(
  wordList
    .flatMap(({ phrase, instead }) => [phrase, ...instead])
    .flatMap((one) => one.split(" ").map((word, i, words) => (i > 0 ? `${words[i - 1]!} ${word}` : "")))
    .filter((pair) => pair !== ""),
);
/** What each token is looked for by, for whatever colors a book without parsing it. */
export const sources: ReadonlyMap<TokenType, Source> = sourceList;
/** In lexing order: longer phrases before what they begin with, what any word could be last. */
export const tokens: readonly TokenType[] = [
  ...all.filter((type) => !wordOf.has(type) && ![Unit, Name, Unknown].includes(type)),
  ...[...wordList].sort((a, b) => b.phrase.length - a.phrase.length).map((entry) => entry.token),
  Unit,
  Name,
  Unknown,
];

export function makeLexer(options: { readonly validate: boolean }): Lexer {
  return new Lexer([...tokens], { positionTracking: "onlyOffset", ensureOptimizations: true, skipValidations: !options.validate });
}

// Making tokens ---------------------------------------------------------------------------------------------------------------

interface TokenOptions {
  readonly start?: readonly (string | number)[];
  readonly anyStart?: boolean;
  readonly group?: string;
  readonly categories?: readonly TokenType[];
  /** Capitals or not; such patterns know no letters but ASCII. */
  readonly anyCase?: boolean;
  readonly register?: boolean;
}

/** Chevrotain drops the `u` flag of a pattern, so each brings its own matcher. What ends in a letter ends a word. */
function token(name: string, source: string, options: TokenOptions): TokenType {
  const expression = new RegExp(source, options.anyCase ? "iy" : "uy");
  const exec = (text: string, offset: number): CustomPatternMatcherReturn | null => {
    expression.lastIndex = offset;
    const found = expression.exec(text);
    if (found === null) return null;
    const end = offset + found[0].length;
    return isLetter(text.charCodeAt(end - 1)) && goesOn(text, end) ? null : (found as CustomPatternMatcherReturn);
  };
  const type = createToken({
    name,
    pattern: { exec },
    line_breaks: true,
    start_chars_hint: options.anyStart ? anyStart() : [...(options.start ?? [])],
    ...(options.group === undefined ? {} : { group: options.group }),
    categories: [...(options.categories ?? [])],
  });
  sourceList.set(type, { pattern: source, anyCase: options.anyCase ?? false });
  if (options.register !== false) all.push(type);
  return type;
}

function isLetter(code: number): boolean {
  return (code > 96 && code < 123) || (code > 64 && code < 91);
}

function goesOn(text: string, at: number): boolean {
  more.lastIndex = at;
  return more.test(text);
}

function abstract(name: string): TokenType {
  const type = createToken({ name, pattern: Lexer.NA });
  all.push(type);
  return type;
}

function word(name: string, phrase: string, role: Role, instead: readonly string[] = []): TokenType {
  const source = [phrase, ...instead].map((one) => `${one.replaceAll(" ", "\\s+").replaceAll("'", "['’]")}(?!-?[a-z\\d])`).join("|");
  const kinds: Record<Role, readonly TokenType[]> = {
    statement: [StatementStart],
    clause: [ClauseStart],
    relation: [RelationStart],
    joining: [],
    free: [Name],
  };
  const starts = new Set([phrase, ...instead].flatMap((one) => [one[0]!, one[0]!.toUpperCase()]));
  const type = token(name, source, { start: [...starts], categories: kinds[role], anyCase: true });
  wordList.push({ token: type, phrase, role, instead });
  return type;
}

function digits(): string[] {
  return [..."0123456789"];
}

/** Where a name may start: ASCII letters and, one code for each of the lexer's buckets, everything beyond. */
function letters(): (string | number)[] {
  return [..."abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", ...beyondAscii()];
}
function blanks(): (string | number)[] {
  return [" ", "\t", "\n", "\r", "\v", "\f", ...beyondAscii()];
}
function anyStart(): number[] {
  return [...Array(128).keys(), ...beyondAscii()];
}
function beyondAscii(): number[] {
  const codes: number[] = [];
  for (let code = 128; code < 256; code++) codes.push(code);
  for (let code = 256; code <= 0xffff; code += 255) codes.push(code);
  codes.push(0xffff);
  return codes;
}
