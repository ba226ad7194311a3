import { describeScreen } from "./every-page.ts";

describeScreen("a wide light screen", {
  viewport: { width: 1280, height: 900 },
  colorScheme: "light",
  alsoAt: [768, 1024],
});
