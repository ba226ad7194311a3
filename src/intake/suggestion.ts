export { didYouMean, folded, nearMiss, suggest } from "./problems/wording.ts";
