/**
 * What is written and not saved yet, kept on every keystroke in the browser's own store, so that it outlives the tab:
 *
 *     (folder, path) ──▶ { text, version it was made from }
 */
interface Draft {
  readonly text: string;
  /** Of the file that it was made from; undefined: a new one. */
  readonly before: string | undefined;
}

export interface Drafts {
  all(): Promise<ReadonlyMap<string, Draft>>;
  keep(path: string, draft: Draft): void;
  drop(path: string): void;
  /** Once all that was asked for is kept. */
  kept(): Promise<void>;
}

/** Those of one folder. Where the browser keeps nothing (`failed` is told once), there are none. */
export async function openDrafts(folder: string, failed: () => void): Promise<Drafts> {
  const store = await opened().catch(() => undefined);
  if (store === undefined) {
    failed();
    return { all: () => Promise.resolve(new Map()), keep: () => undefined, drop: () => undefined, kept: () => Promise.resolve() };
  }
  let last: Promise<unknown> = Promise.resolve();
  const change = (work: (drafts: IDBObjectStore) => IDBRequest): void => {
    last = done(work(store.transaction(STORE, "readwrite", { durability: "strict" }).objectStore(STORE))).catch(failed);
  };
  return {
    all: async () => {
      const drafts = store.transaction(STORE).objectStore(STORE);
      const mine = IDBKeyRange.bound([folder, ""], [folder, "\uffff"]);
      const [keys, values] = await Promise.all([done(drafts.getAllKeys(mine)), done(drafts.getAll(mine) as IDBRequest<Draft[]>)]);
      return new Map(keys.map((key, at) => [(key as [string, string])[1], values[at]!]));
    },
    keep: (path, draft) => change((drafts) => drafts.put(draft, [folder, path])),
    drop: (path) => change((drafts) => drafts.delete([folder, path])),
    kept: () => last.then(() => undefined),
  };
}

const STORE = "drafts";

function opened(): Promise<IDBDatabase> {
  const request = indexedDB.open("waterlore-desk", 1);
  request.addEventListener("upgradeneeded", () => request.result.createObjectStore(STORE));
  return done(request);
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.addEventListener("success", () => resolve(request.result));
    request.addEventListener("error", () => reject(request.error ?? new Error()));
  });
}
