/**
 * Tests: what must hold.
 *
 *   clarity is dirty or dirtier, or cover only grass, pads, or low-vision
 *           └─ values ────────┘  └┘       └ members ┘  └──┘
 *   └─ term ──────────────────┘ join                   join
 *
 * Two gates (`moreValues`, `moreMembers`) tell the `or` between values and the comma between members from the `or` and `, or` that
 * join tests. Whether a last value is in truth a situation or a comparing word, only the resolver can know.
 */
import * as T from "./tokens.js";
import { ValueRules, type Rule } from "./value-rules.js";

export abstract class TestRules extends ValueRules {
  readonly test: Rule = this.RULE("test", () => {
    this.SUBRULE(this.term);
    this.MANY(() => {
      this.SUBRULE(this.join);
      this.SUBRULE2(this.term);
    });
  });
  readonly join: Rule = this.RULE("join", () => {
    this.OPTION(() => this.CONSUME(T.Comma));
    this.OR([{ ALT: () => this.CONSUME(T.And) }, { ALT: () => this.CONSUME(T.Or) }]);
  });
  readonly term: Rule = this.RULE("term", () => {
    this.MANY(() => this.CONSUME(T.Not));
    this.OR([
      {
        ALT: () => {
          this.CONSUME(T.Open);
          this.SUBRULE(this.test);
          this.CONSUME(T.Close);
        },
      },
      {
        ALT: () => {
          this.SUBRULE(this.subject);
          this.OPTION(() => this.SUBRULE(this.relation));
        },
      },
    ]);
  });
  readonly relation: Rule = this.RULE("relation", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.is) },
      { ALT: () => this.SUBRULE(this.isNot) },
      { ALT: () => this.SUBRULE(this.isNeither) },
      { ALT: () => this.SUBRULE(this.isLimit) },
      { ALT: () => this.SUBRULE(this.between) },
      { ALT: () => this.CONSUME(T.IsEmpty) },
      { ALT: () => this.CONSUME(T.IsNotEmpty) },
      { ALT: () => this.SUBRULE(this.has) },
    ]);
  });
  readonly is: Rule = this.RULE("is", () => {
    this.CONSUME(T.Is);
    this.OR([
      {
        ALT: () => {
          this.SUBRULE(this.comparingWord);
          this.CONSUME(T.Than);
          this.SUBRULE(this.value);
        },
      },
      { ALT: () => this.SUBRULE(this.values) },
    ]);
  });
  readonly isNot: Rule = this.RULE("isNot", () => {
    this.CONSUME(T.IsNot);
    this.SUBRULE(this.values);
  });
  readonly isNeither: Rule = this.RULE("isNeither", () => {
    this.CONSUME(T.IsNeither);
    this.SUBRULE(this.value);
    this.AT_LEAST_ONE(() => {
      this.CONSUME(T.Nor);
      this.SUBRULE2(this.value);
    });
  });
  readonly isLimit: Rule = this.RULE("isLimit", () => {
    this.OR([
      { ALT: () => this.CONSUME(T.IsAtLeast) },
      { ALT: () => this.CONSUME(T.IsAtMost) },
      { ALT: () => this.CONSUME(T.IsAbove) },
      { ALT: () => this.CONSUME(T.IsBelow) },
    ]);
    this.SUBRULE(this.value);
  });
  readonly between: Rule = this.RULE("between", () => {
    this.OR([{ ALT: () => this.CONSUME(T.From) }, { ALT: () => this.CONSUME(T.IsFrom) }]);
    this.SUBRULE(this.value);
    this.CONSUME(T.To);
    this.SUBRULE2(this.value);
  });
  readonly has: Rule = this.RULE("has", () => {
    this.OR([
      {
        ALT: () => {
          this.CONSUME(T.Has);
          this.SUBRULE(this.member);
        },
      },
      {
        ALT: () => {
          this.OR2([
            { ALT: () => this.CONSUME(T.HasAnyOf) },
            { ALT: () => this.CONSUME(T.HasAllOf) },
            { ALT: () => this.CONSUME(T.HasNo) },
            { ALT: () => this.CONSUME(T.Only) },
          ]);
          this.SUBRULE(this.members);
        },
      },
    ]);
  });
  readonly members: Rule = this.RULE("members", () => {
    this.SUBRULE(this.member);
    this.MANY({
      GATE: () => this.moreMembers(),
      DEF: () => {
        this.CONSUME(T.Comma);
        this.SUBRULE2(this.member);
      },
    });
  });
  readonly values: Rule = this.RULE("values", () => {
    this.SUBRULE(this.value);
    this.MANY({
      GATE: () => this.moreValues(),
      DEF: () => {
        this.CONSUME(T.Or);
        this.SUBRULE2(this.value);
      },
    });
  });

  /** Not the comma of `cover only grass, pads, or sky is dark`. */
  private moreMembers(): boolean {
    return !this.isNext(2, T.Or, T.And);
  }

  /** `or` joins one more value unless a test of its own follows it. */
  private moreValues(): boolean {
    return !this.isNext(2, T.Not, T.Open) && !(this.isNext(2, T.Name) && this.isNext(3, T.RelationStart));
  }
}
