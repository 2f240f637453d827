/** Who waits for whom: reported where all that holds a pick up is on purpose, whatever other picks it tests. */
import { expect, test } from "vitest";
import { check } from "../check.js";

const book = (hook: string): string => `book "Waits"
condition clarity: in order clear, muddy
pick family: spinnerbait, frog
pick hook: small, large
pick blade: round, leaf
pattern "Either" go with family spinnerbait or frog
${hook}
pattern "Clear and small" go with blade leaf when hook is small and clarity is clear
pattern "Spinner" go with blade round when family is spinnerbait
fall back on blade leaf
`;
const waits = (text: string) =>
  check(text)
    .findings.filter(({ code }) => code === "waiting")
    .map(({ pick, where, share }) => [pick, where, share]);

test("a tested pick with a gap does not hide what another one leaves open", () =>
  expect(waits(book(`pattern "Large" go with hook large when clarity is clear`))).toEqual([["blade", "always", "1"]]));

test("where that gap holds the pick up as well, only the gap is reported", () =>
  expect(waits(book(`pattern "Large" go with hook large when clarity is muddy`))).toEqual([["blade", "clarity is muddy", "1/2"]]));
