import type { Page } from "playwright-core";
import { expect } from "vitest";

/**
 * Waits until the chart of a page is drawn, asking from outside: a page that has to ask itself again evaluates text, which its own
 * policy forbids.
 */
export async function chartDrawn(page: Page): Promise<void> {
  const width = () =>
    page.locator("canvas").evaluate((canvas) => (canvas as unknown as { width: number }).width);
  await expect.poll(width).toBeGreaterThan(300);
}
