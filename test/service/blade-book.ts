/** A book with something of every kind that can be completed. */
export const book = `book "Blades"
condition clarity "Water clarity": in order clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
condition bottom: sand, mud, rock
condition cover "Cover": any of grass, pads, stumps, docks
condition temp "Water temperature": 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition wind: 0 to 40 mph, to the nearest 1 mph
condition day: days of the year
condition hour: times of the day
band temp: cold below 50 °F, warm
group cover: soft is grass, pads
situation low-vision: clarity is dirty or dirtier
pick blade "Blade style": round, teardrop, "long leaf"
pick weight: 1/4 oz, 3/8 oz, 1/2 oz
judgement seen: same as clarity
pattern "Mud wants thump"
  go with blade round
  when clarity is muddy
pattern "Wind wants weight"
  go with weight 1/2 oz
  when wind is above 10 mph
`;
