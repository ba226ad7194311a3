import nunjucks from "nunjucks";
import { templatesFolder } from "../package/package-folders.ts";

/** Where templates come from. The compiled program has this module replaced by one that holds them as functions already. */
export const templateLoader: nunjucks.ILoader = new nunjucks.FileSystemLoader(templatesFolder);
