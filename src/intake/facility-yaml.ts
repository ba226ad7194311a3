import type { Facility } from "../model/facility.ts";
import type { ProblemList } from "./problem-list.ts";
import { facilityBlank } from "./problems/yaml.ts";
import { checkConcessions } from "./yaml/concession-checks.ts";
import { checkCriteria } from "./yaml/criterion-checks.ts";
import { builtFacility } from "./yaml/facility-build.ts";
import { checkFacility } from "./yaml/facility-checks.ts";
import { checkPlan } from "./yaml/plan-checks.ts";
import { checkReaderLogs } from "./yaml/reader-log-checks.ts";
import { YamlReporter } from "./yaml/reporter.ts";
import { writtenSections } from "./yaml/written-facility.ts";
import { readYaml } from "./yaml/yaml-document.ts";

export const facilityFile = "facility.yaml";

/**
 * Reads the text of facility.yaml. Where the list of problems holds an error afterwards, the facility is a draft that
 * serves only to check the logs against it.
 */
export function readFacilityYaml(
  id: string,
  source: string,
  problems: ProblemList,
): { facility: Facility; report: YamlReporter } | null {
  const tree = readYaml(source, facilityFile, problems);
  if (tree === null) return null;
  if (typeof tree.value !== "object" || tree.value === null || Array.isArray(tree.value)) {
    const place = { file: facilityFile, line: 1, column: 1 };
    problems.report(place, facilityBlank.with({ isNothing: tree.value === null }));
    return null;
  }
  const sections = writtenSections(tree, facilityFile, problems);
  const report = new YamlReporter(tree, facilityFile, problems);
  checkFacility(sections, report);
  checkCriteria(sections, report);
  checkConcessions(sections, report);
  checkReaderLogs(sections, report);
  checkPlan(sections, report);
  const facility = builtFacility(id, sections);
  return facility === null ? null : { facility, report };
}
