import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { demonstrationFiles, demonstrationPictures } from "./demonstration-files.ts";

/** The folder of package.json, whether this file runs compiled or as it is. */
function projectRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "package.json"))) folder = dirname(folder);
  return folder;
}

const root = projectRoot();
const data = join(root, "data");
const wanted = new Map<string, Buffer>(
  [...demonstrationFiles(root), ...(await demonstrationPictures())].map(([path, content]) => [
    path,
    Buffer.from(content as string),
  ]),
);
const present = existsSync(data)
  ? readdirSync(data, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => relative(data, join(entry.parentPath, entry.name)).split(sep).join("/"))
  : [];
const surplus = present.filter((path) => !wanted.has(path)).sort();

if (process.argv.includes("--check")) {
  const differing = [...wanted]
    .filter(([path, bytes]) => !present.includes(path) || !readFileSync(join(data, path)).equals(bytes))
    .map(([path]) => path);
  for (const path of differing) console.error(`data/${path} is not what the generator makes.`);
  for (const path of surplus) console.error(`data/${path} is made by nothing in demonstration/.`);
  if (differing.length + surplus.length > 0) process.exitCode = 1;
  else console.log(`data/ is what the generator makes: ${wanted.size} files.`);
} else {
  for (const path of surplus) rmSync(join(data, path));
  for (const [path, bytes] of wanted) {
    mkdirSync(dirname(join(data, path)), { recursive: true });
    writeFileSync(join(data, path), bytes);
  }
  console.log(`Wrote ${wanted.size} files to data/.`);
}
