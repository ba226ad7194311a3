import { createHash } from "node:crypto";
import type { BagFiles } from "../../src/archive/bag/files.ts";
import { byCodePoint } from "../../src/model/order.ts";

/** A bag that lies in memory, by path. */
export type Contents = Record<string, string | Buffer>;

export function memoryBag(contents: Contents, odd: string[] = []): BagFiles {
  const bytes = new Map(
    Object.entries(contents)
      .sort(([a], [b]) => byCodePoint(a, b))
      .map(([path, content]) => [path, Buffer.from(content as Buffer)]),
  );
  return {
    sizes: new Map([...bytes].map(([path, content]) => [path, content.length])),
    odd,
    async *pieces(path) {
      yield bytes.get(path)!;
    },
  };
}

export const declaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

export const draftDeclaration = declaration.replace("1.0", "0.97");

export function lineOf(content: string | Buffer, path: string, algorithm = "sha256"): string {
  return `${createHash(algorithm).update(content).digest("hex")}  ${path}\n`;
}
