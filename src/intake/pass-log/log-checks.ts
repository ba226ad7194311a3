import type { ProblemList } from "../problem-list.ts";
import { checkConditions } from "./condition-checks.ts";
import type { LogContext } from "./log-context.ts";
import { remarkOnManifests } from "./manifest-remarks.ts";
import { checkMeasuredColumns } from "./measured-columns.ts";
import { checkPasses } from "./pass-checks.ts";
import { checkRssi } from "./rssi-checks.ts";
import { remarkOnStrays } from "./stray-remarks.ts";
import { checkTags } from "./tag-checks.ts";
import { checkValues } from "./value-checks.ts";

/** What can only be checked once everything is read. */
export function checkLog(context: LogContext, problems: ProblemList): void {
  checkPasses(context);
  checkTags(context, problems);
  checkValues(context);
  checkConditions(context);
  checkMeasuredColumns(context);
  checkRssi(context);
  remarkOnManifests(context);
  remarkOnStrays(context);
}
