/**
 * Lists, names and values, and how the parser recovers.
 *
 * Recovery is Chevrotain's: a missing small word is put in, a stray one is passed over, else reading goes on at the next word that can
 * follow. Decisions look at most two tokens ahead, the gates of `test-rules.ts` three.
 */
import { CstParser, tokenMatcher, type CstNode, type IParserErrorMessageProvider, type ParserMethod, type TokenType } from "chevrotain";
import * as T from "./tokens.js";

export type Rule = ParserMethod<[], CstNode>;

/** The message carries only what was expected; the sentences are made later, from the exception. */
const errorMessageProvider: IParserErrorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }) => expected.name,
  buildNotAllInputParsedMessage: () => "",
  buildNoViableAltMessage: () => "",
  buildEarlyExitMessage: () => "",
};

export abstract class ValueRules extends CstParser {
  constructor(options: { readonly validate: boolean }) {
    super([...T.tokens], {
      recoveryEnabled: true,
      maxLookahead: 2,
      nodeLocationTracking: "onlyOffset",
      errorMessageProvider,
      skipValidations: !options.validate,
    });
  }

  readonly titles: Rule = this.RULE("titles", () => {
    this.SUBRULE(this.title);
    this.MANY(() => {
      this.CONSUME(T.Comma);
      this.SUBRULE2(this.title);
    });
  });
  readonly options: Rule = this.RULE("options", () => {
    this.SUBRULE(this.optionValue);
    this.MANY(() => {
      this.CONSUME(T.Comma);
      this.SUBRULE2(this.optionValue);
    });
  });
  readonly title: Rule = this.RULE("title", () => {
    this.CONSUME(T.Text);
  });
  readonly label: Rule = this.RULE("label", () => {
    this.CONSUME(T.Text);
  });
  readonly path: Rule = this.RULE("path", () => {
    this.CONSUME(T.Text);
  });
  readonly text: Rule = this.RULE("text", () => {
    this.CONSUME(T.Text);
  });
  readonly newName: Rule = this.RULE("newName", () => {
    this.CONSUME(T.Name);
  });
  readonly conditionName: Rule = this.RULE("conditionName", () => {
    this.CONSUME(T.Name);
  });
  readonly pickName: Rule = this.RULE("pickName", () => {
    this.CONSUME(T.Name);
  });
  readonly pickNames: Rule = this.RULE("pickNames", () => {
    this.SUBRULE(this.pickName);
    this.MANY(() => {
      this.CONSUME(T.Comma);
      this.SUBRULE2(this.pickName);
    });
  });
  /** What a test is about, or a situation. */
  readonly subject: Rule = this.RULE("subject", () => {
    this.CONSUME(T.Name);
  });
  readonly level: Rule = this.RULE("level", () => {
    this.CONSUME(T.Name);
  });
  readonly member: Rule = this.RULE("member", () => {
    this.CONSUME(T.Name);
  });
  readonly comparingWord: Rule = this.RULE("comparingWord", () => {
    this.CONSUME(T.Name);
  });
  readonly optionValue: Rule = this.RULE("optionValue", () => {
    this.SUBRULE(this.value);
  });
  readonly value: Rule = this.RULE("value", () => {
    this.OR([
      { ALT: () => this.CONSUME(T.Name) },
      { ALT: () => this.CONSUME(T.Text) },
      { ALT: () => this.SUBRULE(this.quantity) },
      { ALT: () => this.CONSUME(T.Day) },
      { ALT: () => this.CONSUME(T.Date) },
      { ALT: () => this.CONSUME(T.Time) },
    ]);
  });
  readonly limit: Rule = this.RULE("limit", () => {
    this.SUBRULE(this.quantity);
  });
  readonly quantity: Rule = this.RULE("quantity", () => {
    this.CONSUME(T.Number);
    this.OPTION(() => this.SUBRULE(this.unit));
  });
  readonly unit: Rule = this.RULE("unit", () => {
    this.OR([{ ALT: () => this.CONSUME(T.Unit) }, { ALT: () => this.CONSUME(T.Name) }]);
  });
  readonly number: Rule = this.RULE("number", () => {
    this.CONSUME(T.Number);
  });
  readonly date: Rule = this.RULE("date", () => {
    this.CONSUME(T.Date);
  });

  /** Guessed names and quoted texts would look like written ones, and a word that starts a clause is never the mistake. */
  protected override canTokenTypeBeInsertedInRecovery(type: TokenType): boolean {
    return type !== T.Name && type !== T.Text && type !== T.Number && type !== T.Date;
  }
  protected override canTokenTypeBeDeletedInRecovery(): boolean {
    return !this.isNext(1, T.StatementStart, T.ClauseStart);
  }

  protected isNext(distance: number, ...types: readonly TokenType[]): boolean {
    const next = this.LA(distance);
    return types.some((type) => tokenMatcher(next, type));
  }
}
