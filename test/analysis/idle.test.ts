/** Parts of a `when` that change no answer, where what others say is all that hides it. */
import { expect, test } from "vitest";
import { check } from "../check.js";

function idleParts(text: string): readonly string[] {
  return check(text)
    .findings.filter(({ code }) => code === "changes-nothing")
    .map(({ range }) => text.slice(range.start, range.end));
}

test("a part that only decides how much a pattern is trusted, where a narrower one wins without it", () => {
  expect(
    idleParts(`book "Mud"
condition clarity: clear, muddy
condition sky: bright, dark
pick blade: colorado, willow
trust clarity first, then sky
pattern "Mud and dark" go with blade colorado when clarity is muddy and sky is dark
pattern "Mud and sun" go with blade willow when clarity is muddy and sky is bright
fall back on blade willow
`),
  ).toEqual(["sky is dark", "sky is bright"]);
});

test("not a part without which a pattern would be trusted more than one it meets", () => {
  expect(
    idleParts(`book "Mud"
condition clarity: clear, muddy
condition sky: bright, dark
condition wind: calm, blowing
pick blade: colorado, willow
trust sky first, then wind, then clarity
pattern "Mud and dark" go with blade colorado when clarity is muddy and sky is dark
pattern "Mud and wind" go with blade willow when clarity is muddy and wind is blowing
fall back on blade willow
`),
  ).toEqual([]);
});

const switches = `book "Switches"
condition v: no, yes
condition x: no, yes
condition y: no, yes
condition z: no, yes
pick blade: willow, colorado, indiana
`;

test("not a part without which a pattern would drop those that together leave nothing", () => {
  expect(
    idleParts(`${switches}pattern "A" go with blade willow or colorado when x is yes
pattern "B" go with blade colorado or indiana when y is yes
pattern "C" go with blade indiana or willow when z is yes
pattern "D" go with blade indiana when x is yes and y is yes and z is yes and v is yes
`),
  ).toEqual([]);
});

test("not a part without which a pattern would drop what narrows down its own list", () => {
  expect(
    idleParts(`${switches}fall back on blade willow
pattern "A" go with blade willow when x is yes
pattern "B" go with blade willow or colorado when y is yes
pattern "C" go with blade willow or colorado when x is yes and y is yes and v is yes
`),
  ).toEqual([]);
});

test("a reason is looked for only where it can be: a pattern on what nothing asks for there", () => {
  const text = `book "Brush"
condition clarity: in order clear, muddy
condition cover: any of grass, brush
pick family: spinnerbait, jig
pattern "Brush wants a jig" go with family jig when cover has brush
fall back on family spinnerbait
pick blade: round, leaf
  only when family is spinnerbait
pattern "Mud wants a round blade" go with blade round when clarity is muddy
pattern "Brush bends a leaf" never blade leaf when cover has brush
fall back on blade leaf
`;
  const [idle, ...others] = check(text).findings.filter(({ code }) => code === "does-nothing");
  expect(others).toEqual([]);
  expect(idle!.message).toContain("wherever its `when` holds, blade does not apply, is silent, or waits for another pick");
});
