import { chromiumPath } from "./chromium.ts";

/** Unpacks the browser once, before test files that run side by side would all try to. */
export default async function unpackChromium(): Promise<void> {
  await chromiumPath();
}
