/** Books for measuring, made from fixed seeds: the same text on every run. */

/** mulberry32, a small public-domain generator: reproducible, good enough to shuffle with. */
export function dice(seed: number): (sides: number) => number {
  let state = seed >>> 0;
  return (sides) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * sides);
  };
}

/** A shop's book: 8 conditions, 10 picks each of which tests the one before, `patterns` rules of thumb. */
export function shopBook(patterns: number, seed = 1): string {
  const roll = dice(seed);
  const conditions = `condition clarity: in order very-clear, clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
condition sky: in order bright, broken, overcast, dark
  rising is darker, falling is brighter
condition cover: any of grass, pads, stumps, docks
condition water-temp: 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition depth: 0 to 40 ft
  rising is deeper, falling is shallower
condition wind: 0 to 40 mph, to the nearest 1 mph
condition day: days of the year
condition current: in order none, slow, fast
band water-temp: cold below 50 °F, cool below 60 °F, mild below 70 °F, warm below 80 °F, hot
band day: winter from dec 1, prespawn from mar 10, spawn from apr 20, summer from jun 1, autumn from sep 20
`;
  const tests: readonly (() => string)[] = [
    () => `clarity is ${["clear or clearer", "stained", "dirty or dirtier", "muddy"][roll(4)]}`,
    () => `sky is ${["bright", "overcast or darker", "dark"][roll(3)]}`,
    () => `cover has ${["grass", "pads", "stumps", "docks"][roll(4)]}`,
    () => `water-temp is ${["cold", "cool", "mild", "warm", "hot", "cold or cool", "62 °F or warmer"][roll(7)]}`,
    () => `depth is ${["6 ft or deeper", "shallower than 6 ft", "12 ft or deeper"][roll(3)]}`,
    () => `wind is ${["above 10 mph", "at most 5 mph", "above 15 mph"][roll(3)]}`,
    () => `day is ${["winter", "prespawn", "spawn", "summer", "autumn"][roll(5)]}`,
    () => `current is ${["none", "slow or fast", "fast"][roll(3)]}`,
  ];
  const names = ["family", "size", "color", "weight", "blade", "setup", "trailer", "hook", "retrieve", "line"];
  const picks = names
    .map(
      (name, i) =>
        `pick ${name}: ${["a", "b", "c", "d"].map((option) => `${name}-${option}`).join(", ")}\n${i > 0 && i % 2 === 0 ? `  only when ${names[i - 1]} is not ${names[i - 1]}-d\n` : ""}`,
    )
    .join("");
  let text = `book "Shop of ${patterns}"\n${conditions}${picks}trust clarity first, then sky, then cover, then water-temp, then depth, then wind, then day, then current\n`;
  for (let n = 0; n < patterns; n++) {
    const i = n % names.length;
    const name = names[i]!;
    const parts = new Set<string>();
    // Each pick has its own few conditions, as in a shop; now and then it asks what was picked before it.
    for (let k = 0; k < 1 + roll(2); k++) parts.add(tests[(i + roll(3)) % tests.length]!());
    if (i > 0 && roll(3) === 0) parts.add(`${names[i - 1]} is ${names[i - 1]}-${"abc"[roll(3)]}`);
    text += `pattern "Rule ${n}"\n  go with ${name} ${name}-${"abcd"[roll(4)]}\n  when ${[...parts].join(" and ")}\n`;
  }
  return text + names.map((name) => `fall back on ${name} ${name}-a\n`).join("");
}

/** A box split again and again on the axis of its widest side: `patterns` disjoint boxes over numeric columns, some of them moved in one column. */
export function splitBook(patterns: number, columns: number, perturbed: number, seed = 1): string {
  const roll = dice(seed);
  const size = 1000;
  let boxes: [number, number][][] = [Array.from({ length: columns }, (): [number, number] => [0, size])];
  while (boxes.length < patterns) {
    const at = roll(boxes.length);
    const box = boxes[at]!;
    const column = roll(columns);
    const [low, high] = box[column]!;
    if (high - low < 4) continue;
    const cut = low + 1 + roll(high - low - 1);
    const other = box.map((side) => [...side] as [number, number]);
    box[column] = [low, cut];
    other[column] = [cut, high];
    boxes.push(other);
  }
  boxes = boxes.map((box) => {
    if (roll(100) >= perturbed) return box;
    const column = roll(columns);
    const [low, high] = box[column]!;
    return box.map((side, i) => (i === column ? ([Math.max(0, low - 2 - roll(5)), high] as [number, number]) : side));
  });
  const names = Array.from({ length: columns }, (_, i) => `c${i}`);
  const test = (name: string, [low, high]: readonly [number, number]): string[] => [
    ...(low > 0 ? [`${name} is at least ${low}`] : []),
    ...(high < size ? [`${name} is below ${high}`] : []),
  ];
  return (
    `book "Splits"\n${names.map((name) => `condition ${name}: 0 to ${size}\n`).join("")}pick act: ${Array.from({ length: 7 }, (_, i) => `a${i}`).join(", ")}\n` +
    boxes
      .map((box, n) => {
        const parts = box.flatMap((side, i) => test(names[i]!, side));
        return `pattern "Box ${n}"\n  go with act a${roll(7)}\n${parts.length > 0 ? `  when ${parts.join(" and ")}\n` : ""}`;
      })
      .join("")
  );
}

/** Sparse rules of thumb: each tests `tests` of the conditions, five or six levels each. */
export function sparseBook(patterns: number, conditions: number, tests: number, seed = 1): string {
  const roll = dice(seed);
  const levels = ["l0", "l1", "l2", "l3", "l4", "l5"];
  let text = `book "Sparse"\n${Array.from({ length: conditions }, (_, i) => `condition c${i}: in order ${levels.slice(0, i % 2 ? 6 : 5).join(", ")}\n`).join("")}pick act: a0, a1, a2, a3\n`;
  for (let n = 0; n < patterns; n++) {
    const chosen = new Set<number>();
    while (chosen.size < tests) chosen.add(roll(conditions));
    text += `pattern "Rule ${n}"\n  go with act a${roll(4)}\n  when ${[...chosen].map((i) => `c${i} is l${roll(5)}${roll(2) ? ` or l${roll(5)}` : ""}`).join(" and ")}\n`;
  }
  return text + "fall back on act a0\n";
}

/**
 * Wildcard-heavy patterns whose columns each hold a complete signature: pattern i tests conditions i and i + 1 only, so that no order of
 * tests settles many at once (Maranget 2007, section 7, gives the family for pattern matching; retold here for rules of thumb).
 */
export function wildcardBook(n: number): string {
  const conditions = Array.from({ length: n }, (_, i) => `condition c${i}: in order no, yes\n`).join("");
  const patterns = Array.from({ length: n }, (_, i) =>
    (["yes", "no"] as const)
      .map(
        (value) =>
          `pattern "Column ${i} ${value}"\n  go with act a${i}${value}\n  when c${i} is ${value} and c${(i + 1) % n} is ${value}\n`,
      )
      .join(""),
  ).join("");
  return `book "Wildcards"\n${conditions}pick act: ${Array.from({ length: n }, (_, i) => `a${i}yes, a${i}no`).join(", ")}, otherwise\n${patterns}fall back on act otherwise\n`;
}

/** The first draft of a shop's book: tests at random, so many conflicts; leans, moves and nevers; picks in a chain; `common` patterns in a book taken in. */
export function draftBook(patterns: number, seed = 1): Readonly<Record<"common.lore" | "draft.lore", string>> {
  const roll = dice(seed);
  const conditions = `condition clarity: in order clear, stained, dirty, muddy
condition sky: in order bright, broken, overcast, dark
condition cover: any of grass, pads, stumps
condition water-temp: 33 to 95 °F, to the nearest 1 °F
condition depth: 0 to 40 ft
condition wind: 0 to 40 mph, to the nearest 1 mph
condition day: days of the year
condition current: none, slow, fast
`;
  const tests: readonly (() => string)[] = [
    () => `clarity is ${["clear", "stained or dirty", "muddy", "clear or stained", "not clear"][roll(5)]!}`,
    () => `sky is ${["bright", "broken or overcast", "dark", "not bright"][roll(4)]!}`,
    () => `cover ${["has grass", "has no pads", "has any of pads, stumps", "is empty"][roll(4)]!}`,
    () => `water-temp is ${["at least", "at most", "below", "above"][roll(4)]!} ${40 + 5 * roll(10)} °F`,
    () => `depth is ${["at least", "below"][roll(2)]!} ${4 + 4 * roll(8)} ft`,
    () => `wind is ${["above", "at most"][roll(2)]!} ${5 + 5 * roll(5)} mph`,
    () =>
      `day from ${["jan", "mar", "may", "jul", "sep"][roll(5)]!} ${1 + roll(28)} to ${["feb", "apr", "jun", "oct", "dec"][roll(5)]!} ${1 + roll(28)}`,
    () => `current is ${["none", "slow or fast", "fast"][roll(3)]!}`,
  ];
  const names = ["family", "size", "color", "weight", "blade", "setup", "trailer", "hook", "retrieve", "line"];
  const option = (pick: number): string => `${names[pick]!}-${"abcd"[roll(4)]!}`;
  const says = (pick: number): string => {
    const name = names[pick]!;
    const form = roll(12);
    if (form < 7) return `go with ${name} ${option(pick)}${roll(3) === 0 ? `, then ${option(pick)}` : ""}`;
    if (form < 10) return `lean ${roll(3) === 0 ? "off" : "to"} ${name} ${option(pick)} by ${1 + roll(2)}`;
    return form === 10 ? `never ${name} ${option(pick)}` : `move ${name} ${["up", "down"][roll(2)]!} 1`;
  };
  const pattern = (n: number): string => {
    const pick = roll(names.length);
    const parts = Array.from({ length: 1 + roll(3) }, () => tests[roll(tests.length)]!());
    if (pick > 0 && roll(3) === 0) parts.push(`${names[pick - 1]!} is ${roll(2) === 0 ? "not " : ""}${option(pick - 1)}`);
    const [first, ...others] = [...new Set(parts)];
    const when = others.length > 1 && roll(4) === 0 ? `${first!} and (${others.join(" or ")})` : [first!, ...others].join(" and ");
    return `pattern "Rule ${n}" ${says(pick).replace(/(\S+), then \1$/, "$1")} when ${when}\n`;
  };
  const picks = names.map((name) => `pick ${name}: in order ${[..."abcd"].map((letter) => `${name}-${letter}`).join(", ")}\n`).join("");
  const common = Math.floor(patterns / 4);
  const many = (from: number, to: number): string => Array.from({ length: to - from }, (_, i) => pattern(from + i)).join("");
  return {
    "common.lore": `book "Common"\n${conditions}${picks}${many(0, common)}`,
    "draft.lore": `book "Draft of ${patterns}"\nbuilds on "common.lore"\ntrust clarity first, then sky, then water-temp\n${many(common, patterns)}${names
      .filter((_, i) => i % 3 > 0)
      .map((name) => `fall back on ${name} ${name}-a\n`)
      .join("")}`,
  };
}

/** A dozen numbers and 400 patterns that each test three of them: nobody waits for the end of its check. */
export function endlessBook(): string {
  return `${Array.from({ length: 12 }, (_, i) => `condition c${i}: 0 to 100\n`).join("")}pick blade: round, leaf\n${Array.from({ length: 400 }, (_, i) => `pattern "P${i}"\n  go with blade ${i % 2 ? "leaf" : "round"}\n  when c${i % 12} is above ${(i * 7) % 90}.5 and c${(i * 5 + 1) % 12} is below ${(i * 11) % 95}.5 and c${(i * 3 + 2) % 12} from ${i % 50} to ${60 + (i % 40)}\n`).join("")}`;
}
