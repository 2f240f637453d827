/** A binary heap (Williams 1964): whatever comes first by `compare` is the next out. */
export interface Heap<T> {
  push(item: T): void;
  /** Undefined: it is empty. */
  pop(): T | undefined;
}

export function heap<T>(compare: (a: T, b: T) => number): Heap<T> {
  const items: T[] = [];
  const before = (a: number, b: number): boolean => b >= items.length || compare(items[a]!, items[b]!) <= 0;
  const swap = (a: number, b: number): void => {
    [items[a], items[b]] = [items[b]!, items[a]!];
  };
  return {
    push(item) {
      let at = items.push(item) - 1;
      for (let above = (at - 1) >> 1; at > 0 && !before(above, at); above = (at - 1) >> 1) {
        swap(above, at);
        at = above;
      }
    },
    pop() {
      const first = items[0];
      const last = items.pop();
      if (items.length === 0) return first;
      items[0] = last!;
      for (let at = 0; ;) {
        const [left, right] = [2 * at + 1, 2 * at + 2];
        const next = before(left, right) ? left : right;
        if (before(at, next)) return first;
        swap(at, next);
        at = next;
      }
    },
  };
}
