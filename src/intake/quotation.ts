export { listing, quoted, shortened } from "./problems/wording.ts";
