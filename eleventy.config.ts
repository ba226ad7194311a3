/** Where those who know the engine look for its settings. The program itself hands them over (`render-pages.ts` beside them). */
export { configure as default } from "./src/site/engine/settings.ts";
