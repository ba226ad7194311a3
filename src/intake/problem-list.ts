export { type CsvPlace, type Finding, ProblemList } from "./problems/problem-list.ts";
