/**
 * What leads round in a circle: the strongly connected components of a directed graph.
 *
 *     0 ──▶ 1 ⇄ 2      3 ──▶ 3         next: [[1], [2], [1], [3]]   ──▶   [1, 2], [0], [3]
 *
 * Kosaraju's algorithm (Sharir 1981): two depth-first walks, there and back, with a trail of their own, so that a chain may be of any
 * length.
 */

/** All of them, those of one node too, each rising; each after all that it leads to. `next`: for each node those it leads to. */
export function components(next: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const back: number[][] = next.map(() => []);
  next.forEach((some, from) => some.forEach((to) => back[to]!.push(from)));
  const last = postorder([...next.keys()], next)
    .flat()
    .reverse();
  return postorder(last, back)
    .filter((members) => members.length > 0)
    .map((members) => members.sort((a, b) => a - b))
    .reverse();
}

/** Depth first from each root in turn: what is newly reached from it, each node after all that it leads to. */
export function postorder(roots: readonly number[], next: readonly (readonly number[])[]): number[][] {
  const seen = new Set<number>();
  return roots.map((root) => {
    const done: number[] = [];
    const trail: { readonly node: number; child: number }[] = [];
    const enter = (node: number): void => {
      if (seen.has(node)) return;
      seen.add(node);
      trail.push({ node, child: 0 });
    };
    enter(root);
    for (let here = trail.at(-1); here !== undefined; here = trail.at(-1)) {
      const child = next[here.node]![here.child++];
      if (child !== undefined) enter(child);
      else done.push(trail.pop()!.node);
    }
    return done;
  });
}
