import { describeScreen } from "./every-page.ts";

describeScreen("a dark phone", {
  viewport: { width: 390, height: 844 },
  colorScheme: "dark",
  alsoAt: [320, 650, 700],
});
