import nunjucks from "nunjucks";
import { templatesFolder } from "../package/package-folders.ts";

/**
 * Where the templates of one site come from: an environment listens to its loader for as long as that lives. The compiled program
 * has this module replaced by one that holds them as functions already.
 */
export function templateLoader(): nunjucks.ILoader {
  return new nunjucks.FileSystemLoader(templatesFolder);
}
