import type { ProblemList } from "../problem-list.ts";
import type { LogContext } from "./log-context.ts";

/** What can only be checked once everything is read. */
export function checkLog(_context: LogContext, _problems: ProblemList): void {}
