import { complement, full, intersect, isEmpty, type Span } from "../../model/span.js";
import { isFork, type Node } from "./diagram.js";

/** The positions of a variable, parted so that no test of the diagram tells two of one class apart. */
export function classesOf<L>(node: Node<L>, variable: number, size: number): readonly Span[] {
  let classes: Span[] = [full(size)];
  const seen = new Set<number>();
  const known = new Set<string>();
  const walk = (at: Node<L>): void => {
    if (!isFork(at) || seen.has(at.id) || !at.support.includes(variable)) return;
    seen.add(at.id);
    const key = at.inside.join(",");
    if (at.variable === variable && !known.has(key)) {
      known.add(key);
      const outside = complement(at.inside, size);
      classes = classes.flatMap((part) => [intersect(part, at.inside), intersect(part, outside)].filter((span) => !isEmpty(span)));
    }
    walk(at.yes);
    walk(at.no);
  };
  walk(node);
  return classes.sort((a, b) => a[0]! - b[0]!);
}
