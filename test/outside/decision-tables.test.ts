/** Published facts about decision tables, each told as a book. The sources stand beside the checks. */
import { describe, expect, test } from "vitest";
import { check, codes } from "../check.js";

/** Errors and warnings; in a complete table notes say which tests could be left out, since the narrower column wins. */
const faults = (book: string): string[] => codes(check(book).findings.filter(({ severity }) => severity !== "note"));

const scales = (...names: string[]): string => names.map((name) => `condition ${name}: in order no, yes\n`).join("");

describe("completeness by counting (Shiffman 1997, JAMIA 4:382: three yes/no variables are complete when the columns count 8)", () => {
  test("eight columns of one: complete and free of conflicts", () => {
    const columns = Array.from(
      { length: 8 },
      (_, i) =>
        `pattern "Column ${i}"\n  go with act a${i}\n  when ${["p", "q", "r"].map((name, bit) => `${name} is ${(i >> bit) & 1 ? "yes" : "no"}`).join(" and ")}\n`,
    ).join("");
    expect(
      faults(`book "Complete"\n${scales("p", "q", "r")}pick act: ${Array.from({ length: 8 }, (_, i) => `a${i}`).join(", ")}\n${columns}`),
    ).toEqual([]);
  });
  test("columns with dashes that count 4 + 2 + 1 + 1 = 8: complete", () => {
    const book = `book "Dashes"\n${scales("p", "q", "r")}pick act: a, b, c, d
pattern "Y--" go with act a when p is yes
pattern "NY-" go with act b when p is no and q is yes
pattern "NNY" go with act c when p is no and q is no and r is yes
pattern "NNN" go with act d when p is no and q is no and r is no\n`;
    expect(faults(book)).toEqual([]);
  });
  test("counting is not enough: `Y -` and `- Y` count 2 + 2 = 4 = 2², yet YY overlaps and NN is missing (worked out by hand)", () => {
    const { findings } = check(`book "Counts"\n${scales("p", "q")}pick act: a, b
pattern "Y -" go with act a when p is yes
pattern "- Y" go with act b when q is yes\n`);
    const conflict = findings.find(({ code }) => code === "conflict");
    const gap = findings.find(({ code }) => code === "gap");
    expect(conflict).toMatchObject({ share: "1/4", example: { p: "yes", q: "yes" }, where: "p is yes and q is yes" });
    expect(gap).toMatchObject({ share: "1/4", example: { p: "no", q: "no" }, where: "p is no and q is no" });
  });
});

describe("related conditions (a classic lecture example on decision tables; retold from memory)", () => {
  // C1: x > 60, C2: x < 40, x from 0 to 100.
  const limited = (second: string, bothYes: string): string => `book "Related"
condition x: 0 to 100
pick act: a, b, c
pattern "Y N" go with act a when x is above 60 and not (${second})
pattern "N Y" go with act b when not (x is above 60) and ${second}
${bothYes}`;
  test("x > 60 and x < 40: (Y,Y) cannot occur, so its two actions are no conflict; (N,N) is a real gap, with 50 in it", () => {
    const { findings } = check(
      limited(
        "x is below 40",
        `pattern "Y Y" go with act c when x is above 60 and x is below 40\npattern "Y Y again" go with act b when x is above 60 and x is below 40\n`,
      ),
    );
    expect(codes(findings)).not.toContain("conflict");
    const gap = findings.find(({ code }) => code === "gap")!;
    expect(gap.where).toBe("x from 40 to 60");
    expect(gap.share).toBe("1/5");
    // A pattern that can never hold is said to do nothing.
    expect(findings.filter(({ code }) => code === "does-nothing").map(({ patterns }) => patterns![0])).toEqual(["Y Y", "Y Y again"]);
  });
  test("x > 60 and x > 40: (Y,Y) doubled with different actions is a real conflict, with 70 in it", () => {
    const { findings } = check(
      limited(
        "x is above 40",
        `pattern "Y Y" go with act c when x is above 60 and x is above 40\npattern "Y Y again" go with act b when x is above 60 and x is above 40\n`,
      ),
    );
    const conflict = findings.find(({ code }) => code === "conflict")!;
    expect(conflict.where).toBe("x is above 60");
    expect(conflict.share).toBe("2/5");
    const example = Number(String(conflict.example!["x"]));
    expect(example).toBeGreaterThan(60);
  });
});

describe("the WMO Beaufort bands, printed in whole knots (4: 11–16 kn, 5: 17–21 kn)", () => {
  const bands: readonly (readonly [number, number])[] = [
    [1, 3],
    [4, 6],
    [7, 10],
    [11, 16],
    [17, 21],
    [22, 27],
    [28, 33],
    [34, 40],
  ];
  const book = (
    wind: string,
  ): string => `book "Beaufort"\ncondition wind: ${wind}\npick force: f0, ${bands.map((_, i) => `f${i + 1}`).join(", ")}
pattern "Below 1 kn" go with force f0 when wind is below 1 kn
${bands.map(([from, to], i) => `pattern "Force ${i + 1}" go with force f${i + 1} when wind from ${from} kn to ${to} kn`).join("\n")}\n`;
  test("read to the nearest knot they leave nothing out", () => {
    expect(codes(check(book("0 to 40 kn, to the nearest 1 kn")).findings)).toEqual([]);
  });
  test("on a continuous wind, 16.5 kn falls between two bands: hairlines, and a gap", () => {
    const { findings } = check(book("0 to 40 kn"));
    expect(codes(findings)).toEqual(["gap", "hairline"]);
    const hairline = findings.find(({ code }) => code === "hairline")!;
    expect(hairline.where).toContain("wind is above 16 kn and wind is below 17 kn");
    expect(hairline.share).toBe("7/40");
  });
});
