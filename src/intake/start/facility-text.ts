import { intervals, signOffInterval } from "../../intervals/index.ts";
import { passesWithoutMiss } from "../../intervals/passes-without-miss.ts";
import type { Condition, DateOrder } from "../../model/facility.ts";
import { joined } from "../../model/number-words.ts";
import { placeholders, proposal } from "../../model/placeholders.ts";
import { yamlFlow, yamlScalar } from "../yaml/scalar-text.ts";
import { labelOf } from "./columns-found.ts";

/** What a new facility.yaml says beside its placeholders. */
export interface FacilityStart {
  /** IANA name. */
  timeZone: string;
  /** Null where the logs leave none open, or nothing settles it. */
  dateOrder: DateOrder | null;
  rounds: { id: string; date: string | null }[];
  readPoints: { id: string; name: string; kind: string | null }[];
  conditions: Condition[];
  criteria: ProposedCriterion[];
  /** Entries of `reader_logs` as `describe` prints them, each with two blanks before its lines; empty for none. */
  readerLogs: string;
  /** The sheets to read, by path, of workbooks that have several. */
  sheets: Record<string, string[]>;
  /** The load that a plan may name; null where none is known. */
  manifest: string | null;
  /** Whether all this was found in files, or is an example to replace. */
  isFound: boolean;
}

/** A requirement that nobody has agreed to. */
export interface ProposedCriterion {
  id: string;
  title: string;
  /** The measure and its limit, in the keys of facility.yaml. */
  keys: Record<string, string | number>;
}

const settings = { confidence: 0.95, missCorrelation: 0.02 };
const showing = { tags: 40, limit: 0.99 };

/** Which interval `new` chooses, why, and what that costs beside the others. */
export function intervalReason(): string {
  const chosen = signOffInterval();
  const costs = intervals.all().map((interval) => {
    const passes = passesWithoutMiss(interval, showing, settings);
    return { id: interval.id, passes: passes ?? "too many" };
  });
  const own = costs.find(({ id }) => id === chosen.id)!;
  const others = costs.filter(({ id }) => id !== chosen.id).map(({ id, passes }) => `${passes} with ${id}`);
  return `The interval is ${chosen.id}. ${chosen.words.atStart ?? ""} It costs passes: to show ${showing.limit * 100} % without a miss takes ${own.passes} passes of ${showing.tags} tags (${joined(others)}).`;
}

/** The text of a new facility.yaml. */
export function facilityText(start: FacilityStart): string {
  return [
    head(start),
    rounds(start),
    readPoints(start),
    conditions(start),
    criteria(start),
    rest(start),
  ].join("\n");
}

function head({ timeZone, dateOrder, isFound }: FacilityStart): string {
  const { number, issued, preparer, preparerOrganisation, witness, client, role } = placeholders;
  const lead = isFound
    ? 'Read points, rounds, conditions and reader_logs were found in your files. What is marked "change" nobody could find there.'
    : 'Replace what is marked "change"; the other values are examples. The folder examples/ shows more, and is not read.';
  const order =
    dateOrder === null
      ? ""
      : `\ndate_order: ${dateOrder}              # guess: some dates can be read both ways, and others only so`;
  return `# yaml-language-server: $schema=./facility.schema.json
#
# This file describes one facility: the client, the read points, and what is required of them.
# ${lead}
# \`proofwalk check\` lists what is still to be replaced, missing or wrong.

name: ${placeholders.name}                                                        # change
client: ${client}                                                        # change
address: ${placeholders.address}                                                    # change
time_zone: ${yamlScalar(timeZone)}                     # of this computer; applies to times in the logs that state no offset${order}

# The date of issue decides whether a concession has expired. It is never taken from the clock.
report: { number: ${number}, revision: A, issued: ${issued} }                # change
# People sign: name is a person, role what the person does, organisation the firm.
prepared_by: { name: ${preparer}, role: ${role}, organisation: ${preparerOrganisation} }       # change
witnessed_by:
  - { name: ${witness}, role: ${role} }                                 # change

confidence: ${settings.confidence}                       # of every interval, two-sided

${comment(`${intervalReason()} The method page explains the choice.`)}
interval: ${signOffInterval().id}
miss_correlation: ${settings.missCorrelation}                 # least correlation assumed between misses of one pass, or of one tag
smallest_change_that_matters: 0.005    # between rounds; a difference that surely lies within it counts as no change
`;
}

function rounds({ rounds: list, isFound }: FacilityStart): string {
  const entries = list.map(
    ({ id, date }) => `  - ${yamlFlow({ id, title: labelOf(id), ...(date === null ? {} : { date }) })}`,
  );
  const more = isFound
    ? "#   say what was changed before a round: changes: Antenna 3 lowered by 0.4 m"
    : `# - id: as-left
#   title: As left
#   date: 2026-01-28
#   changes: Antenna 3 lowered by 0.4 m
#   settings: { dock-1: { transmit_power_dbm: 30, session: 1 } }
#   radio: { dock-1: { region: eu-lower, cable_loss_db: 1.5, antenna_gain_dbi: 6, zone_m: 2 } }     # or us, eu-upper, other`;
  return `# A round is one campaign of passes with one set of reader settings. List the earliest first; the last one is judged.
rounds:
${entries.join("\n")}
${more}
`;
}

function readPoints({ readPoints: list, isFound }: FacilityStart): string {
  const entries = list.map(({ id, name, kind }) => {
    const said = kind === null ? "" : `\n    kind: ${kind}`;
    return `  - id: ${yamlScalar(id)}\n    name: ${yamlScalar(name)}${said}`;
  });
  const kind = isFound ? "#   kind: dock door\n" : "";
  return `read_points:
${entries.join("\n")}
${kind}#   at: { x: 20, y: 40 }               # on the floor plan, in percent from the left and from the top
#   equipment: { reader: make and model, serial: "0000", firmware: "1.0" }
`;
}

function conditions({ conditions: list }: FacilityStart): string {
  const lead =
    "# Columns of the pass logs or manifests that describe how a pass was made, or how a tag sat in it.";
  if (list.length === 0)
    return `${lead}\nconditions: []\n# - { column: speed_m_s, label: Speed, unit: m/s, bands: [0, 1, 2] }\n`;
  const entries = list.map(({ column, label, unit, bands }) => {
    const keys = { column, label, ...(unit === null ? {} : { unit }), ...(bands === null ? {} : { bands }) };
    return `  - ${yamlFlow(keys)}`;
  });
  return `${lead}\nconditions:\n${entries.join("\n")}\n`;
}

function criteria({ criteria: list, conditions: all }: FacilityStart): string {
  const named = all.find(({ bands }) => bands === null)?.column ?? "orientation";
  const entries = list.map(({ id, title, keys }) => {
    const lines = Object.entries(keys).map(([key, value]) => `    ${key}: ${yamlScalar(value)}`);
    return [`  - id: ${id}`, `    title: ${yamlScalar(proposal + title)}`, ...lines].join("\n");
  });
  return `# The requirements. These are proposals: agree on them with the client, and take the word off their titles then.
# Write a rate as a fraction. No number of passes can show 1, so state what you mean, for example 0.999.
criteria:
${entries.join("\n")}
#   for_each: [${yamlScalar(named)}]     # the criterion must then hold for each value on its own
`;
}

function rest({ readPoints: points, readerLogs, sheets, manifest, criteria: list }: FacilityStart): string {
  const ids = points
    .slice(0, 8)
    .map(({ id }) => yamlScalar(id))
    .join(", ");
  const first = yamlScalar(points[0]?.id ?? "dock-1");
  const load =
    manifest === null
      ? ""
      : `\n#   manifest: ${yamlScalar(manifest)}            # the load that every pass carries`;
  const logs =
    readerLogs === ""
      ? ""
      : `# Logs that the readers wrote themselves, as \`proofwalk describe\` tells them. Guesses are marked.
reader_logs:
${readerLogs}pass_window: { before_s: 0, after_s: 0 }     # how far around a pass its reads still belong to it

`;
  const books = Object.entries(sheets).map(
    ([path, names]) => `  ${yamlScalar(path)}: [${names.map(yamlScalar).join(", ")}]\n`,
  );
  const read =
    books.length === 0 ? "" : `# The sheets of workbooks that are read.\nsheets:\n${books.join("")}\n`;
  return `${read}${logs}# The walk to come: \`proofwalk plan\` says how many passes it needs, and the site has them as walk sheets.
# plan:
#   seed: 7                            # of the random order of the passes
#   tags_per_pass: 40${load}
#   expected_rate: 0.998               # what a well-tuned read point is expected to read; must be better than the limit
#   read_points: [${ids}]

# Permissions to accept a finding that does not meet its criterion, for a time. They are shown beside the finding and do
# not change it.
concessions: []
# - { criterion: ${list[0]?.id ?? "id"}, read_point: ${first}, granted_by: Name, on: 2026-01-30, until: 2026-04-30, reason: Why }

# Work that is still to be done.
open_points: []
# - { id: P1, read_point: ${first}, text: What, owner: Who, due: 2026-02-15, closed: null }

# When the read points are to be tested again, and the read points that the sheet is for if part of the facility is signed
# first. Both are printed on the sheet.
# retest: { on: 2027-01-30, why: yearly }
# sign_off: [${first}]
`;
}

/** A text as comment lines. */
function comment(text: string): string {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last === undefined || last.length + 1 + word.length > 118) lines.push(`# ${word}`);
    else lines[lines.length - 1] = `${last} ${word}`;
  }
  return lines.join("\n");
}
