import { suggest } from "../problems/card/wording.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import { timeZoneUnknown } from "../problems/yaml.ts";

export function checkTimeZone(path: Path, zone: string, report: YamlReport): void {
  if (!isTimeZone(zone)) report.value(path, timeZoneUnknown.with({ near: suggest(zone, timeZoneNames()) }));
}

/** Whether the name is an IANA time zone this machine knows. */
export function isTimeZone(name: string): boolean {
  // Fixed offsets are zones to some engines and not to others.
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en-GB", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

function timeZoneNames(): string[] {
  return [...Intl.supportedValuesOf("timeZone"), "UTC"];
}
