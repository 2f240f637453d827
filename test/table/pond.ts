/** A small invented book with something of every kind, read for the tests of wording. */
import { answers, type Answers } from "../../src/analysis/answers.js";
import type { Model } from "../../src/model/model.js";
import { read } from "../law/reading.js";

const pond = `book "Jig heads, Tern Pond"
  shop "Hollin Landing"
  edition "2027 spring"
  good from 2027-03-01 to 2027-06-15

condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
condition cover "Cover": any of grass, pads, logs, docks
  ask "What can you see in the water?"
condition water-temp "Water temperature": 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition depth "Depth": 0 to 40 ft
condition day "Date": days of the year
  filled from the date

band water-temp: cold below 50 °F, cool below 70 °F, warm
group cover: soft is grass, pads
group cover: hard is logs, docks
impossible when day from dec 1 to feb 28 and water-temp is warm because "never logged here"

pick color "Color": black, brown, white
pick weight "Head weight": 1/8 oz, 1/4 oz, 3/8 oz
pick trailer "Trailer": straight, craw
  only when color is black or brown

trust clarity first, then cover

pattern "Mud hides a pale jig"
  go with color black, then brown
  when clarity is muddy
  because "A dark shape stands out against a bright surface."
pattern "Clear water shows everything"
  go with color brown or white
  when clarity is clear
pattern "Wood holds crayfish"
  go with color brown
  when cover has hard
  because "They live under it."
pattern "Pads shade the water"
  lean to color black
  when cover has pads
pattern "Grass is green"
  lean to color white
  when cover has grass
pattern "Deep water wants weight"
  go with weight 3/8 oz
  when depth is above 10 ft
pattern "Shallow water wants none"
  go with weight 1/8 oz
  when depth is below 10 ft
pattern "Cold slows it down"
  move weight down 1
  when water-temp is cold
pattern "Nothing light among docks"
  never weight 1/8 oz
  when cover has docks
pattern "Craws where it is warm"
  go with trailer craw
  when water-temp is warm
fall back on trailer straight because "It never hurts."
say nothing on color when day from feb 1 to feb 20 because "Closed by the county."

caution "Cold water" when water-temp is colder than 60 °F
  say "Cold water disables a swimmer within minutes. Wear a life jacket." see "National Weather Service"
`;

export interface Pond {
  readonly model: Model;
  readonly answers: Answers;
}

export function readPond(): Pond {
  const { model, faults } = read({ "pond.lore": pond }, "pond.lore");
  if (faults.length > 0) throw new Error(faults.map(({ message }) => message).join("\n"));
  return { model, answers: answers(model, { steps: 400_000 }) };
}
