/** Several tabs with one book: each hears of the others. */
export interface Tabs {
  /** This tab has a book in front. */
  has(path: string): void;
}

/** `met` is told of a book that another tab has in front as well. */
export function meetTabs(folder: string, met: (path: string) => void): Tabs {
  const channel = new BroadcastChannel(`waterlore-desk ${folder}`);
  let mine: string | undefined;
  channel.addEventListener("message", ({ data }: MessageEvent<{ readonly path: string; readonly isReply: boolean }>) => {
    if (data.path !== mine) return;
    met(data.path);
    if (!data.isReply) channel.postMessage({ path: data.path, isReply: true });
  });
  return {
    has: (path) => {
      mine = path;
      channel.postMessage({ path, isReply: false });
    },
  };
}
