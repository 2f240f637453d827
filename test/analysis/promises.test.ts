/** Promises on silence: what is kept and what is broken where no answer is given, in the promise's own book and in a more local one. */
import { describe, expect, test } from "vitest";
import { check, type Texts } from "../check.js";

const base = `book "County"
condition season: open, closed
condition clarity: clear, muddy
pick blade: round, leaf
pick hook: small, large
pattern "Mud wants a round blade"
  go with blade round
  when clarity is muddy
fall back on blade leaf
pattern "A round blade wants a large hook"
  go with hook large
  when blade is round
fall back on hook small
`;
const local = (text: string): Texts => ({ "county.lore": base, "shop.lore": `book "Shop"\nbuilds on "county.lore"\n${text}\n` });

function promises(texts: Texts) {
  const all = { ...texts };
  return check(all)
    .findings.filter(({ code }) => code === "promise")
    .map(({ path, severity, message, related }) => {
      const places = (related ?? []).map(
        ({ path, range, message }) => `${path}: ${all[path]!.slice(range.start, range.end).split("\n")[0]!} (${message})`,
      );
      return { path, severity, message, places };
    });
}

function withPromise(texts: Texts, promise: string): Texts {
  return { ...texts, "county.lore": `${texts["county.lore"]!}promise "P": ${promise}\n` };
}

describe("a base book's promise", () => {
  const closed = local("say nothing on blade when season is closed");

  test.each([
    "blade must have an answer",
    "hook must have an answer",
    "blade must be round when clarity is muddy",
    "hook must be large when clarity is muddy",
  ])("%s: is kept where a more local book says nothing on purpose", (promise) => {
    expect(promises(withPromise(closed, promise))).toEqual([]);
  });

  test("is broken where the more local book recommends something else", () => {
    const other = local('say nothing on blade when season is closed\npattern "Our own" go with blade leaf when season is open');
    expect(promises(withPromise(other, "blade must be round when clarity is muddy"))).toMatchObject([
      { path: "county.lore", severity: "warning" },
    ]);
  });

  test("is broken by a silence of its own book, which is named, also where another pick falls silent with it", () => {
    const texts = local("");
    const own = { ...texts, "county.lore": `${base}say nothing on blade when season is closed\n` };
    for (const pick of ["blade", "hook"]) {
      const [broken] = promises(withPromise(own, `${pick} must have an answer`));
      expect(broken!.message).toContain(`${pick} has no answer (no advice).`);
      expect(broken!.places).toEqual(["county.lore: say nothing on blade when season is closed (Here nothing is said on blade)"]);
    }
  });
});

describe("must have no answer", () => {
  test("is kept where nothing is recommended", () => {
    expect(
      promises(
        local(
          'say nothing on blade when season is closed\npromise "Closed": blade must have no answer when season is closed\npromise "Nor a hook": hook must have no answer when season is closed',
        ),
      ),
    ).toEqual([]);
  });

  test("is broken where there is a list, and says how to be silent", () => {
    const texts = local('promise "Closed": blade must have no answer when season is closed');
    expect(promises(texts)).toMatchObject([{ path: "shop.lore", severity: "error" }]);
    expect(check(texts).findings.find(({ code }) => code === "promise")!.help).toContain("`say nothing on blade when …`");
  });
});
