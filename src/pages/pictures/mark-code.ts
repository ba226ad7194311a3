import encodeQR from "qr";
import { element, frame, ink, rectangle } from "./svg.ts";

/** Blank modules around a code, as its standard asks. */
const quiet = 4;

/** A hash as a QR code, whole; black on white on every screen, since phones read nothing else reliably. */
export function markCode(sha256: string): string {
  const rows = encodeQR(sha256, "raw", { ecc: "medium", border: quiet });
  const size = rows.length;
  const path = rows.map((row, y) => runs(row).map(([x, width]) => `M${x} ${y}h${width}v1h-${width}z`));
  return frame(
    {
      id: "mark-code",
      width: size,
      height: size,
      title: "The evidence mark as a QR code",
      description: "All 64 digits of the SHA-256 of result.json.",
      className: "mark-code",
    },
    rectangle({ x: 0, y: 0, width: size, height: size }, { fill: ink.paper }) +
      element("path", { d: path.flat().join(""), fill: "#000000", "shape-rendering": "crispEdges" }),
  );
}

/** Where dark modules stand side by side: the first one and how many. */
function runs(row: boolean[]): [number, number][] {
  const found: [number, number][] = [];
  row.forEach((isDark, x) => {
    if (!isDark) return;
    if (row[x - 1]) found.at(-1)![1] += 1;
    else found.push([x, 1]);
  });
  return found;
}
