/** The name of a page without folder and extension: `dock-1` of `plant/read-points/dock-1.html`. */
export function fileStem(path: string): string {
  return path.slice(path.lastIndexOf("/") + 1).replace(/\.html$/, "");
}
