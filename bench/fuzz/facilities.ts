import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** The files of a facility by their path in its folder. */
export type Files = Map<string, Buffer>;

const fewPasses = 3;

/**
 * The demonstration facilities, cut down so that thousands of mutants can be tried: of a log with a row a tag the first few
 * passes; logs with a row a pass, manifests and readers' logs whole.
 */
export function reducedFacilities(data: string): Map<string, Files> {
  const ids = readdirSync(data)
    .filter((name) => existsSync(join(data, name, "facility.yaml")))
    .sort();
  return new Map(ids.map((id) => [id, reduced(filesBelow(join(data, id)))]));
}

function filesBelow(folder: string): Files {
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).sort();
  const files = names.filter((name) => statSync(join(folder, name)).isFile());
  return new Map(files.map((name) => [name.replaceAll("\\", "/"), readFileSync(join(folder, name))]));
}

function reduced(files: Files): Files {
  return new Map(
    [...files].map(([path, bytes]) => [path, path.startsWith("passes/") ? fewRows(bytes) : bytes]),
  );
}

function fewRows(bytes: Buffer): Buffer {
  const [header, ...rows] = bytes.toString().split("\n");
  if (!/[,;]tag[,;]/.test(header!)) return bytes;
  const passes = new Set<string>();
  const kept = rows.filter((row) => {
    const pass = row.split(/[,;]/).slice(0, 3).join();
    if (passes.size < fewPasses) passes.add(pass);
    return passes.has(pass);
  });
  return Buffer.from(`${[header, ...kept].join("\n")}\n`);
}

export function writeFiles(folder: string, files: Files): void {
  for (const [path, bytes] of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), bytes);
  }
}
