/** The clauses of statements. A statement takes its own in any order; the printer has a fixed one. */
import { TestRules } from "./test-rules.js";
import * as T from "./tokens.js";
import type { Rule } from "./value-rules.js";

export abstract class ClauseRules extends TestRules {
  readonly shop: Rule = this.RULE("shop", () => {
    this.CONSUME(T.Shop);
    this.SUBRULE(this.text);
  });
  readonly water: Rule = this.RULE("water", () => {
    this.CONSUME(T.Water);
    this.SUBRULE(this.text);
  });
  readonly edition: Rule = this.RULE("edition", () => {
    this.CONSUME(T.Edition);
    this.SUBRULE(this.text);
  });
  readonly goodFrom: Rule = this.RULE("goodFrom", () => {
    this.CONSUME(T.GoodFrom);
    this.SUBRULE(this.date);
    this.CONSUME(T.To);
    this.SUBRULE2(this.date);
  });
  readonly comparing: Rule = this.RULE("comparing", () => {
    this.CONSUME(T.RisingIs);
    this.SUBRULE(this.comparingWord);
    this.OPTION(() => this.CONSUME(T.Comma));
    this.CONSUME(T.FallingIs);
    this.SUBRULE2(this.comparingWord);
  });
  readonly ask: Rule = this.RULE("ask", () => {
    this.CONSUME(T.Ask);
    this.SUBRULE(this.text);
  });
  readonly filledFrom: Rule = this.RULE("filledFrom", () => {
    this.CONSUME(T.FilledFromThe);
    this.OR([
      { ALT: () => this.CONSUME(T.TheDate) },
      { ALT: () => this.CONSUME(T.TheClock) },
      { ALT: () => this.CONSUME(T.TheSun) },
      { ALT: () => this.CONSUME(T.TheMoon) },
    ]);
  });
  readonly onlyWhen: Rule = this.RULE("onlyWhen", () => {
    this.CONSUME(T.OnlyWhen);
    this.SUBRULE(this.test);
  });
  readonly goWith: Rule = this.RULE("goWith", () => {
    this.CONSUME(T.GoWith);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.places);
  });
  readonly places: Rule = this.RULE("places", () => {
    this.SUBRULE(this.place);
    this.MANY(() => {
      this.OPTION(() => this.CONSUME(T.Comma));
      this.CONSUME(T.Then);
      this.SUBRULE2(this.place);
    });
  });
  readonly place: Rule = this.RULE("place", () => {
    this.SUBRULE(this.optionValue);
    this.MANY(() => {
      this.CONSUME(T.Or);
      this.SUBRULE2(this.optionValue);
    });
  });
  readonly lean: Rule = this.RULE("lean", () => {
    this.OR([{ ALT: () => this.CONSUME(T.LeanTo) }, { ALT: () => this.CONSUME(T.LeanOff) }]);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.options);
    this.OPTION(() => {
      this.CONSUME(T.By);
      this.SUBRULE(this.number);
    });
  });
  readonly never: Rule = this.RULE("never", () => {
    this.CONSUME(T.Never);
    this.SUBRULE(this.pickName);
    this.SUBRULE(this.options);
    this.OPTION(() => {
      this.CONSUME(T.Or);
      this.SUBRULE(this.comparingWord);
    });
  });
  readonly move: Rule = this.RULE("move", () => {
    this.CONSUME(T.Move);
    this.SUBRULE(this.pickName);
    this.OR([{ ALT: () => this.CONSUME(T.Up) }, { ALT: () => this.CONSUME(T.Down) }]);
    this.OPTION(() => this.SUBRULE(this.number));
  });
  readonly when: Rule = this.RULE("when", () => {
    this.CONSUME(T.When);
    this.SUBRULE(this.test);
  });
  readonly because: Rule = this.RULE("because", () => {
    this.CONSUME(T.Because);
    this.SUBRULE(this.text);
  });
  readonly see: Rule = this.RULE("see", () => {
    this.CONSUME(T.See);
    this.SUBRULE(this.text);
    this.MANY(() => {
      this.CONSUME(T.Comma);
      this.SUBRULE2(this.text);
    });
  });
  readonly checked: Rule = this.RULE("checked", () => {
    this.CONSUME(T.Checked);
    this.SUBRULE(this.date);
  });
  readonly until: Rule = this.RULE("until", () => {
    this.CONSUME(T.Until);
    this.SUBRULE(this.date);
  });
  readonly beats: Rule = this.RULE("beats", () => {
    this.CONSUME(T.Beats);
    this.SUBRULE(this.titles);
  });
  readonly say: Rule = this.RULE("say", () => {
    this.CONSUME(T.Say);
    this.SUBRULE(this.text);
  });
  readonly bookClause: Rule = this.RULE("bookClause", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.shop) },
      { ALT: () => this.SUBRULE(this.water) },
      { ALT: () => this.SUBRULE(this.edition) },
      { ALT: () => this.SUBRULE(this.goodFrom) },
    ]);
  });
  readonly conditionClause: Rule = this.RULE("conditionClause", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.comparing) },
      { ALT: () => this.SUBRULE(this.ask) },
      { ALT: () => this.SUBRULE(this.filledFrom) },
    ]);
  });
  readonly pickClause: Rule = this.RULE("pickClause", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.onlyWhen) },
      { ALT: () => this.SUBRULE(this.comparing) },
      { ALT: () => this.SUBRULE(this.ask) },
    ]);
  });
  readonly reasonClause: Rule = this.RULE("reasonClause", () => {
    this.OR([{ ALT: () => this.SUBRULE(this.when) }, { ALT: () => this.SUBRULE(this.because) }]);
  });
  readonly patternClause: Rule = this.RULE("patternClause", () => {
    this.OR([
      { ALT: () => this.SUBRULE(this.goWith) },
      { ALT: () => this.SUBRULE(this.lean) },
      { ALT: () => this.SUBRULE(this.never) },
      { ALT: () => this.SUBRULE(this.move) },
      { ALT: () => this.SUBRULE(this.when) },
      { ALT: () => this.SUBRULE(this.because) },
      { ALT: () => this.SUBRULE(this.see) },
      { ALT: () => this.SUBRULE(this.checked) },
      { ALT: () => this.SUBRULE(this.until) },
      { ALT: () => this.SUBRULE(this.beats) },
    ]);
  });
  readonly cautionClause: Rule = this.RULE("cautionClause", () => {
    this.OR([{ ALT: () => this.SUBRULE(this.when) }, { ALT: () => this.SUBRULE(this.say) }, { ALT: () => this.SUBRULE(this.see) }]);
  });
}
