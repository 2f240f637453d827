/** Paths of books: forward slashes, and found from the folder of the book that names them. */

/** Without `.` and `//`, and without `..` but at the start of a path that is not from the top. */
export function tidyPath(path: string): string {
  const top = path.startsWith("/");
  const parts: string[] = [];
  for (const part of path.split("/")) {
    if (part === "" || part === ".") continue;
    if (part !== "..") parts.push(part);
    else if (parts.length > 0 && parts.at(-1) !== "..") parts.pop();
    else if (!top) parts.push(part);
  }
  return top ? `/${parts.join("/")}` : parts.join("/") || ".";
}

/** A path as it stands beside another: `besides("rules/a.lore", "../b.lore")` is `b.lore`. */
export function besides(path: string, wanted: string): string {
  const folder = path.slice(0, path.lastIndexOf("/") + 1);
  return tidyPath(wanted.startsWith("/") ? wanted : folder + wanted);
}

/** The other way: how a book would write the path of another, both tidy, and both from the top or neither. */
export function pathBeside(own: string, path: string): string {
  const [here, there] = [own.split("/").slice(0, -1), path.split("/")];
  let shared = 0;
  while (shared < here.length && shared < there.length - 1 && here[shared] === there[shared]) shared++;
  return [...here.slice(shared).map(() => ".."), ...there.slice(shared)].join("/");
}
