import type { Page } from "playwright-core";

/** Console messages, faults of scripts, requests that failed or left the disk; what was heard so far when called. */
export function listenTo(page: Page): () => string[] {
  const heard: string[] = [];
  page.removeAllListeners();
  page.on("console", (message) => heard.push(`console: ${message.text()}`));
  page.on("pageerror", (fault) => heard.push(`error: ${fault.message}`));
  page.on("request", (request) => {
    if (!request.url().startsWith("file://")) heard.push(`request: ${request.url()}`);
  });
  page.on("requestfailed", (request) => heard.push(`failed: ${request.url()}`));
  return () => heard;
}
