import { type Browser, chromium as driver } from "playwright-core";

/**
 * The Chromium named by CHROMIUM_PATH, or the one that comes inside an npm package, with the libraries it needs: nothing
 * has to be installed by hand.
 */
export async function chromiumPath(): Promise<string> {
  const named = process.env.CHROMIUM_PATH;
  if (named) return named;
  // The package unpacks its own copy of the libraries only where it takes itself to be in its usual surroundings.
  process.env.AWS_EXECUTION_ENV ??= "AWS_Lambda_nodejs20.x";
  const { default: packaged } = await import("@sparticuz/chromium");
  return packaged.executablePath();
}

let opened: Promise<Browser> | null = null;

/** The browser that all test files of a worker share: a start costs as much as a claim. It ends with the worker. */
export function openBrowser(): Promise<Browser> {
  opened ??= launched();
  return opened;
}

async function launched(): Promise<Browser> {
  return driver.launch({
    executablePath: await chromiumPath(),
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
}
