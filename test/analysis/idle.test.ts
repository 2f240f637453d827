/** Parts of a `when` that change no answer, where what others say is all that hides it. */
import { expect, test } from "vitest";
import { check } from "../check.js";

function idleParts(text: string): readonly string[] {
  return check(text).findings.filter(({ code }) => code === "changes-nothing").map(({ range }) => text.slice(range.start, range.end));
}

test("a part that only decides how much a pattern is trusted, where a narrower one wins without it", () => {
  expect(idleParts(`book "Mud"
condition clarity: clear, muddy
condition sky: bright, dark
pick blade: colorado, willow
trust clarity first, then sky
pattern "Mud and dark" go with blade colorado when clarity is muddy and sky is dark
pattern "Mud and sun" go with blade willow when clarity is muddy and sky is bright
fall back on blade willow
`)).toEqual(["sky is dark", "sky is bright"]);
});

test("not a part without which a pattern would be trusted more than one it meets", () => {
  expect(idleParts(`book "Mud"
condition clarity: clear, muddy
condition sky: bright, dark
condition wind: calm, blowing
pick blade: colorado, willow
trust sky first, then wind, then clarity
pattern "Mud and dark" go with blade colorado when clarity is muddy and sky is dark
pattern "Mud and wind" go with blade willow when clarity is muddy and wind is blowing
fall back on blade willow
`)).toEqual([]);
});
