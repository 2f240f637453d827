/**
 * The grammar: what may follow what. No actions here: the parser gives a concrete tree, `build-tree.ts` makes sense of it.
 *
 *   pattern "Mud wants thump"         pattern
 *     go with blade colorado          ├─ title
 *     when seen is dirty              ├─ patternClause ── goWith ── pickName, places
 *                                     └─ patternClause ── when ── test
 *
 * Each statement is a rule of its own and is parsed alone, from its first word up to the next word that starts a statement; so a
 * broken one cannot damage its neighbors. Inside, the parser recovers at the words that start a clause. Thin rules such as
 * `pickName` or `optionValue` say what a name or value is there for: findings and the reference speak of them.
 *
 * The rules stand in four layers, each using those below: statements (here), clauses, tests, values.
 */
import type { TokenType } from "chevrotain";
import { ClauseRules } from "./clause-rules.js";
import * as T from "./tokens.js";
import type { Rule } from "./value-rules.js";

export class LoreParser extends ClauseRules {
  constructor(options: { readonly validate: boolean }) {
    super(options);
    this.performSelfAnalysis();
  }

  readonly book: Rule = this.RULE("book", () => {
    this.MANY(() => this.SUBRULE(this.statement));
  });

  readonly statement: Rule = this.RULE("statement", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.bookHeader) },
      { ALT: () => this.SUBRULE(this.buildsOn) },
      { ALT: () => this.SUBRULE(this.leaveOut) },
      { ALT: () => this.SUBRULE(this.addOption) },
      { ALT: () => this.SUBRULE(this.condition) },
      { ALT: () => this.SUBRULE(this.band) },
      { ALT: () => this.SUBRULE(this.group) },
      { ALT: () => this.SUBRULE(this.situation) },
      { ALT: () => this.SUBRULE(this.impossible) },
      { ALT: () => this.SUBRULE(this.pick) },
      { ALT: () => this.SUBRULE(this.trust) },
      { ALT: () => this.SUBRULE(this.pattern) },
      { ALT: () => this.SUBRULE(this.fallBack) },
      { ALT: () => this.SUBRULE(this.sayNothing) },
      { ALT: () => this.SUBRULE(this.caution) },
      { ALT: () => this.SUBRULE(this.promise) },
    ]);
  });

  // What a book says of itself --------------------------------------------------------------------------------------------

  readonly bookHeader: Rule = this.RULE("bookHeader", () => {
    this.CONSUME(T.Book);
    this.SUBRULE(this.title);
    this.MANY(() => this.SUBRULE(this.bookClause));
  });

  readonly buildsOn: Rule = this.RULE("buildsOn", () => {
    this.CONSUME(T.BuildsOn);
    this.SUBRULE(this.path);
  });
  readonly leaveOut: Rule = this.RULE("leaveOut", () => {
    this.CONSUME(T.LeaveOut);
    this.SUBRULE(this.titles);
  });
  readonly addOption: Rule = this.RULE("addOption", () => {
    this.CONSUME(T.Add);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.options);
  });

  // What can be observed ----------------------------------------------------------------------------------------------------

  readonly condition: Rule = this.RULE("condition", () => {
    this.CONSUME(T.Condition);
    this.SUBRULE(this.newName);
    this.OPTION(() => this.SUBRULE(this.label));
    this.CONSUME(T.Colon);
    this.SUBRULE(this.domain);
    this.MANY(() => this.SUBRULE(this.conditionClause));
  });
  readonly domain: Rule = this.RULE("domain", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.set) },
      { ALT: () => this.SUBRULE(this.measure) },
      { ALT: () => this.CONSUME(T.DaysOfTheYear) },
      { ALT: () => this.CONSUME(T.TimesOfTheDay) },
      { ALT: () => this.SUBRULE(this.scale) },
    ]);
  });
  readonly scale: Rule = this.RULE("scale", () => {
    this.OPTION(() => this.CONSUME(T.InOrder));
    this.SUBRULE(this.levels);
  });
  readonly set: Rule = this.RULE("set", () => {
    this.CONSUME(T.AnyOf);
    this.SUBRULE(this.levels);
    this.OPTION(() => {
      this.OPTION2(() => this.CONSUME(T.Comma));
      this.CONSUME(T.AtLeastOne);
    });
  });
  readonly levels: Rule = this.RULE("levels", () => {
    this.SUBRULE(this.level);
    this.MANY({
      GATE: () => !this.isNext(2, T.AtLeastOne),
      DEF: () => {
        this.CONSUME(T.Comma);
        this.SUBRULE2(this.level);
      },
    });
  });
  readonly measure: Rule = this.RULE("measure", () => {
    this.SUBRULE(this.limit);
    this.CONSUME(T.To);
    this.SUBRULE2(this.limit);
    this.OPTION(() => {
      this.OPTION2(() => this.CONSUME(T.Comma));
      this.CONSUME(T.ToTheNearest);
      this.SUBRULE3(this.limit);
    });
  });

  readonly band: Rule = this.RULE("band", () => {
    this.CONSUME(T.Band);
    this.SUBRULE(this.conditionName);
    this.CONSUME(T.Colon);
    this.SUBRULE(this.bandParts);
  });
  readonly bandParts: Rule = this.RULE("bandParts", () => {
    this.SUBRULE(this.bandPart);
    this.MANY(() => {
      this.CONSUME(T.Comma);
      this.SUBRULE2(this.bandPart);
    });
  });
  readonly bandPart: Rule = this.RULE("bandPart", () => {
    this.SUBRULE(this.newName);
    this.OPTION(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(T.Below);
            this.SUBRULE(this.value);
          },
        },
        {
          ALT: () => {
            this.CONSUME(T.From);
            this.SUBRULE2(this.value);
          },
        },
      ]),
    );
  });
  readonly group: Rule = this.RULE("group", () => {
    this.CONSUME(T.Group);
    this.SUBRULE(this.conditionName);
    this.CONSUME(T.Colon);
    this.SUBRULE(this.newName);
    this.CONSUME(T.Is);
    this.SUBRULE(this.levels);
  });
  readonly situation: Rule = this.RULE("situation", () => {
    this.CONSUME(T.Situation);
    this.SUBRULE(this.newName);
    this.CONSUME(T.Colon);
    this.SUBRULE(this.test);
  });
  readonly impossible: Rule = this.RULE("impossible", () => {
    this.CONSUME(T.Impossible);
    this.MANY(() => this.SUBRULE(this.reasonClause));
  });

  // What is recommended -----------------------------------------------------------------------------------------------------

  readonly pick: Rule = this.RULE("pick", () => {
    this.OR([{ ALT: () => this.CONSUME(T.Pick) }, { ALT: () => this.CONSUME(T.Judgement) }]);
    this.SUBRULE(this.newName);
    this.OPTION(() => this.SUBRULE(this.label));
    this.CONSUME(T.Colon);
    this.OR2([
      {
        ALT: () => {
          this.CONSUME(T.SameAs);
          this.SUBRULE(this.conditionName);
        },
      },
      {
        ALT: () => {
          this.OPTION2(() => this.CONSUME(T.InOrder));
          this.SUBRULE(this.options);
        },
      },
    ]);
    this.MANY(() => this.SUBRULE(this.pickClause));
  });
  readonly trust: Rule = this.RULE("trust", () => {
    this.OR([
      { ALT: () => this.CONSUME(T.Trust) },
      {
        ALT: () => {
          this.CONSUME(T.TrustFor);
          this.SUBRULE(this.pickName);
          this.CONSUME(T.Colon);
        },
      },
    ]);
    this.SUBRULE(this.trustOrder);
  });
  readonly trustOrder: Rule = this.RULE("trustOrder", () => {
    this.SUBRULE(this.conditionName);
    this.OPTION(() => this.CONSUME(T.First));
    this.MANY(() => {
      this.OPTION2(() => this.CONSUME(T.Comma));
      this.CONSUME(T.Then);
      this.SUBRULE2(this.conditionName);
    });
  });

  readonly pattern: Rule = this.RULE("pattern", () => {
    this.CONSUME(T.Pattern);
    this.SUBRULE(this.title);
    this.MANY(() => this.SUBRULE(this.patternClause));
  });

  readonly fallBack: Rule = this.RULE("fallBack", () => {
    this.CONSUME(T.FallBackOn);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.places);
    this.MANY(() => this.SUBRULE(this.because));
  });
  readonly sayNothing: Rule = this.RULE("sayNothing", () => {
    this.CONSUME(T.SayNothingOn);
    this.SUBRULE(this.onWhat);
    this.MANY(() => this.SUBRULE(this.reasonClause));
  });
  readonly onWhat: Rule = this.RULE("onWhat", () => {
    this.OR({
      DEF: [
        // Among other names it is one that does not belong there, which is told later.
        { GATE: () => !this.isNext(2, T.Comma), ALT: () => this.CONSUME(T.Everything) },
        { ALT: () => this.SUBRULE(this.pickNames) },
      ],
      IGNORE_AMBIGUITIES: true,
    });
  });
  readonly caution: Rule = this.RULE("caution", () => {
    this.CONSUME(T.Caution);
    this.SUBRULE(this.title);
    this.MANY(() => this.SUBRULE(this.cautionClause));
  });
  readonly promise: Rule = this.RULE("promise", () => {
    this.CONSUME(T.Promise);
    this.SUBRULE(this.title);
    this.CONSUME(T.Colon);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.duty);
    this.OPTION(() => this.CONSUME(T.Comma));
    this.MANY(() => this.SUBRULE(this.when));
  });
  readonly duty: Rule = this.RULE("duty", () => {
    this.OR([
      {
        ALT: () => {
          this.CONSUME(T.MustBe);
          this.SUBRULE(this.place);
        },
      },
      {
        ALT: () => {
          this.CONSUME(T.MustNotBe);
          this.SUBRULE2(this.place);
        },
      },
      { ALT: () => this.CONSUME(T.MustHaveAnAnswer) },
      { ALT: () => this.CONSUME(T.MustHaveNoAnswer) },
    ]);
  });
}

/** The rule that reads each statement, by the word that starts it. */
export const statementRules: ReadonlyMap<TokenType, StatementRule> = new Map<TokenType, StatementRule>([
  [T.Book, "bookHeader"],
  [T.BuildsOn, "buildsOn"],
  [T.LeaveOut, "leaveOut"],
  [T.Add, "addOption"],
  [T.Condition, "condition"],
  [T.Band, "band"],
  [T.Group, "group"],
  [T.Situation, "situation"],
  [T.Impossible, "impossible"],
  [T.Pick, "pick"],
  [T.Judgement, "pick"],
  [T.Trust, "trust"],
  [T.TrustFor, "trust"],
  [T.Pattern, "pattern"],
  [T.FallBackOn, "fallBack"],
  [T.SayNothingOn, "sayNothing"],
  [T.Caution, "caution"],
  [T.Promise, "promise"],
]);
export type StatementRule =
  | "bookHeader"
  | "buildsOn"
  | "leaveOut"
  | "addOption"
  | "condition"
  | "band"
  | "group"
  | "situation"
  | "impossible"
  | "pick"
  | "trust"
  | "pattern"
  | "fallBack"
  | "sayNothing"
  | "caution"
  | "promise";
