/** Wall charts and counter cards as data: which conditions they show, and that what they say is what the book says. */
import { describe, expect, test } from "vitest";
import type { Box } from "../../src/analysis/diagrams/diagram.js";
import { positions, run } from "../../src/model/span.js";
import { beyond, counterCard, wallChart } from "../../src/publish/chart-data.js";
import { joined, type PicturePart } from "../../src/publish/picture.js";
import { givenOf, readGiven } from "../../src/answer/given.js";
import { answer } from "../../src/answer/answer.js";
import { readBooks, readShipped, shipped, type Read } from "./shelf.js";

const named = ({ model }: Read, name: string): number => model.conditions.find((one) => one.name === name)!.index;
const pickNamed = ({ model }: Read, name: string): number => model.picks.find((one) => one.name === name)!.index;

function known({ model }: Read, values: Readonly<Record<string, string>>): Box {
  const read = readGiven(model, Object.entries(values));
  if ("problems" in read) throw new Error(read.problems.map(({ problem }) => problem).join(" "));
  return read.given.box;
}

describe("a wall chart", () => {
  test.each(shipped)("says in every cell what `answer` says there: %s", { timeout: 120_000 }, (path) => {
    const book = readShipped(path);
    const { model, answers } = book;
    for (const pick of model.picks.filter(({ judgement, index }) => !judgement && answers.picks[index]).slice(0, 4)) {
      const { down, across, cells } = wallChart(book.sourceOf(pick.index));
      cells.forEach((row, y) =>
        row.forEach((cell, x) => {
          const sides: readonly (PicturePart | undefined)[] = [down?.parts[y], across?.parts[x]];
          const answered = answer(model, givenOf(model, joined(new Map(), ...sides)), () => answers);
          if ("problem" in answered || answered.picks[pick.index]!.shut) return expect(cell.possible).toEqual([]);
          return expect(cell.possible.map(({ share }) => share.toFraction())).toEqual(
            answered.picks[pick.index]!.possible.map(({ share }) => share.toFraction()),
          );
        }),
      );
    }
  });

  test.each(shipped)("has a handful of parts on either side, all values among them: %s", (path) => {
    const book = readShipped(path);
    const { model, answers } = book;
    for (const { index } of model.picks.filter((pick) => answers.picks[pick.index])) {
      const { down, across, others } = wallChart(book.sourceOf(index));
      for (const side of [down, across]) {
        if (!side) continue;
        expect(side.parts.length).toBeLessThanOrEqual(6);
        expect(others).not.toContain(side.condition);
        const { axes, domain } = model.conditions[side.condition]!;
        if (domain.kind === "set") continue;
        const held = side.parts.flatMap(({ boxes }) => [...positions(boxes[0]!.get(axes[0]!)!)]).sort((a, b) => a - b);
        expect(new Set(held).size).toBe(held.length);
        // What has no part never occurs, or is closed.
        for (let at = 0; at < model.axes[axes[0]!]!.size; at++) {
          if (held.includes(at)) continue;
          const answered = answer(model, givenOf(model, new Map([[axes[0]!, run(at, at)]])), () => answers);
          expect("problem" in answered || answered.shut).toBe(true);
        }
      }
    }
  });

  const pond = readBooks(
    {
      "pond.lore": `book "Pond"
condition clarity "Clarity": in order clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
condition warmth "Warmth": 33 to 92 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition sky "Sky": bright, dark
condition sun "Sun": -90 to 90 deg
  rising is higher, falling is lower
  filled from the sun
band warmth: cold below 45 °F, chilly below 55 °F, cool below 65 °F, warm
pick bait "Bait": worm, jig, spoon
pattern "Muddy"
  go with bait jig
  when clarity is dirty or dirtier
pattern "Cold"
  go with bait spoon
  when warmth is colder than 55 °F
pattern "High sun, dark sky"
  go with bait worm
  when sun is higher than 80 deg and sky is dark
trust sun first, then clarity, then warmth
fall back on bait worm
`,
    },
    "pond.lore",
  );

  test("shows the two conditions that settle most, and leaves to the sun what only the sun tells", () => {
    const { down, across, others } = wallChart(pond.sourceOf(0));
    expect([down!.condition, across!.condition].sort((a, b) => a - b)).toEqual([named(pond, "clarity"), named(pond, "warmth")]);
    expect(down!.parts.length).toBe(4);
    expect(across!.parts.map(({ band }) => pond.model.bands[band!]!.name)).toEqual(["cold", "chilly", "cool", "warm"]);
    expect(others).toEqual([named(pond, "sky")]);
  });

  test("names the patterns that go by something else", () => {
    const shown = [named(pond, "clarity"), named(pond, "warmth")];
    expect(beyond(pond.model, 0, shown).map((index) => pond.model.patterns[index]!.title)).toEqual(["High sun, dark sky"]);
    expect(
      beyond(
        pond.model,
        0,
        pond.model.conditions.map(({ index }) => index),
      ),
    ).toEqual([]);
  });

  test("holds what is known, and what was chosen by hand stays where it was put", () => {
    const blades = readShipped("blades.lore");
    const [clarity, warmth] = [named(blades, "clarity"), named(blades, "water-temp")];
    const box = known(blades, { cover: "none", daylight: "daytime", sky: "bright", wind: "5 mph" });
    const { down, across, cells, others } = wallChart(blades.sourceOf(pickNamed(blades, "blade")), {
      known: box,
      down: clarity,
      across: warmth,
    });
    expect([down!.condition, across!.condition]).toEqual([clarity, warmth]);
    expect(others).toEqual([]);
    // In open water under a high sun: very clear and clear the leaf, dirty and muddy the round blade, and stained goes by the leans:
    // cold 3 round, 2 teardrop, 2 leaf; cool 5 teardrop, 2 leaf; warm 2 teardrop, 5 leaf. Added up by hand from the book.
    expect(
      cells.map((row) =>
        row.map(({ fronts }) =>
          fronts.map(({ options }) => blades.model.picks[pickNamed(blades, "blade")]!.options[options[0]!]!.text).join("/"),
        ),
      ),
    ).toEqual([
      ["leaf", "leaf", "leaf"],
      ["leaf", "leaf", "leaf"],
      ["round", "teardrop", "leaf"],
      ["round", "round", "round"],
      ["round", "round", "round"],
    ]);
  });

  test("has one cell where nothing matters", () => {
    const one = readBooks(
      { "one.lore": `book "One"\ncondition sky "Sky": bright, dark\npick bait "Bait": worm\nfall back on bait worm\n` },
      "one.lore",
    );
    const { down, across, cells } = wallChart(one.sourceOf(0));
    expect([down, across, cells.length, cells[0]!.length]).toEqual([undefined, undefined, 1, 1]);
  });
});

describe("a counter card", () => {
  const blades = readShipped("blades.lore");
  const blade = pickNamed(blades, "blade");
  const texts = (options: readonly number[]): string =>
    options.map((option) => blades.model.picks[blade]!.options[option]!.text).join(" or ");

  test("asks the one question that settles most, and gives a choice for each reply", () => {
    const card = counterCard(blades.sourceOf(blade), known(blades, { clarity: "muddy", day: "2027-07-01" }));
    expect(card.question).toBe(named(blades, "cover"));
    // No soft cover (nothing tells none from hard in mud): round. Soft, no hard: leaf. Soft and hard: teardrop, which both have second. All by the patterns on cover.
    expect(card.choices.map(({ options, sure, parts }) => `${texts(options)} ${sure} ${parts.length}`)).toEqual([
      "round true 1",
      "leaf true 1",
      "teardrop true 1",
    ]);
    expect(card.more).toBe(0);
  });

  test("gives first, second and third choice where all is settled", () => {
    const card = counterCard(blades.sourceOf(blade), known(blades, { clarity: "muddy", cover: "none", daylight: "night" }));
    expect(card.question).toBeUndefined();
    expect(card.choices.map(({ options, sure }) => `${texts(options)} ${sure}`)).toEqual(["round true", "teardrop true"]);
  });

  test.each(shipped)(
    "every choice is what `answer` has in front, or likeliest in front, for each of its replies: %s",
    { timeout: 120_000 },
    (path) => {
      const book = readShipped(path);
      const { model, answers } = book;
      for (const { index } of model.picks.filter((pick) => !pick.judgement && answers.picks[pick.index]).slice(0, 3)) {
        const box = new Map([[model.conditions[0]!.axes[0]!, run(0, 0)]]);
        const card = counterCard(book.sourceOf(index), box);
        expect(card.choices.length).toBeLessThanOrEqual(3);
        for (const { parts, options, sure } of card.choices) {
          for (const part of parts.length > 0 ? parts : [undefined]) {
            const answered = answer(model, givenOf(model, joined(box, part)), () => answers);
            if ("problem" in answered) throw new Error(answered.problem);
            const { possible } = answered.picks[index]!;
            const fronts = new Set(possible.map(({ outcome }) => String(outcome.places[0] ?? outcome.status)));
            expect(
              possible.some(({ outcome }) =>
                String(card.question === undefined ? outcome.places.flat() : (outcome.places[0] ?? [])).includes(String(options)),
              ),
            ).toBe(true);
            if (card.question !== undefined && sure) expect(fronts.size).toBe(1);
          }
        }
      }
    },
  );
});
