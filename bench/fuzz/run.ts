import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, rmSync, symlinkSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { runCommandLine } from "../../src/commands/command-line.ts";
import type { Problem } from "../../src/model/problem.ts";
import { Draw } from "./draw.ts";
import { type Files, reducedFacilities, writeFiles } from "./facilities.ts";
import { type Mutant, mutantOf } from "./mutants.ts";

/** Of processor time, which does not hang on what else the machine does. */
const longestSeconds = 5;
const longestBuildSeconds = 60;
/** More than before the first mutant, whatever else the process holds. */
const mostMegabytes = 800;
/** Of so many mutants one is tried as a whole process, which builds the site. */
const wholeEvery = 40;

interface Tried {
  kind: string;
  outcome: string;
  seconds: number;
  /** What must not happen and did. */
  breaches: string[];
}

export interface FuzzOptions {
  /** A folder to work in. */
  room: string;
  /** The demonstration's data folder. */
  data: string;
  /** One facility of it; all where left out. */
  only?: string;
  mutants: number;
  seed: number;
  say: (line: string) => void;
  /** The compiled program, for mutants that are tried as whole processes; null to try none so. */
  program: URL | null;
}

/**
 * Changes a demonstration facility in one place, again and again, and has it checked and judged. Says what came of it by
 * class, and each breach with the seed that repeats it. Returns the number of breaches.
 */
export async function fuzz(options: FuzzOptions): Promise<number> {
  const { mutants, seed, say } = options;
  const facilities = [...reducedFacilities(options.data)].filter(([id]) => id === (options.only ?? id));
  const known = new Map<string, ReadonlySet<string>>();
  for (const [id, files] of facilities) known.set(id, await remarksOn(id, files, options));
  const megabytesBefore = megabytes();
  const tried: Tried[] = [];
  for (let i = 0; i < mutants; i += 1) {
    const draw = new Draw(seed + i);
    const [id, files] = draw.of(facilities);
    const mutant = mutantOf(draw, files);
    const isWhole = options.program !== null && (seed + i) % wholeEvery === 0;
    const one = await attempt({ id, mutant, known: known.get(id)!, isWhole, megabytesBefore }, options);
    tried.push(one);
    for (const breach of one.breaches)
      say(
        `  BREACH ${breach}\n    seed ${seed + i}: ${id}, ${mutant.kind}: ${JSON.stringify(mutant.what).slice(0, 200)}`,
      );
  }
  for (const line of table(tried)) say(`  ${line}`);
  return tried.reduce((sum, { breaches }) => sum + breaches.length, 0);
}

/** What is remarked on before anything is changed. */
async function remarksOn(id: string, files: Files, { room }: FuzzOptions): Promise<ReadonlySet<string>> {
  const data = join(room, "sound");
  writeFiles(join(data, id), files);
  const { problems } = await checked(data);
  rmSync(data, { recursive: true });
  return new Set(problems.map(nameOf));
}

function nameOf({ code, file, found }: Problem): string {
  return [code, file, found].join(" ");
}

interface Attempt {
  id: string;
  mutant: Mutant & { kind: string };
  known: ReadonlySet<string>;
  isWhole: boolean;
  megabytesBefore: number;
}

function megabytes(): number {
  return process.memoryUsage.rss() / 1e6;
}

async function attempt(
  { id, mutant, known, isWhole, megabytesBefore }: Attempt,
  { room, program }: FuzzOptions,
): Promise<Tried> {
  const data = join(room, "data");
  mkdirSync(data, { recursive: true });
  const breaches: string[] = [];
  let outcome = "fault";
  let seconds = 0;
  try {
    writeFiles(join(data, id), mutant.files);
    for (const [path, to] of mutant.links) {
      mkdirSync(dirname(join(data, id, path)), { recursive: true });
      symlinkSync(to, join(data, id, path));
    }
    const before = process.cpuUsage();
    const { status, problems } = await checked(data);
    const judged = await judgedStatus(data);
    const { user, system } = process.cpuUsage(before);
    seconds = (user + system) / 1e6;
    const errors = problems.filter(({ severity }) => severity === "error");
    const isNew = problems.some((problem) => !known.has(nameOf(problem)));
    outcome = judged === 2 ? "refused" : isNew ? "remarked" : "silent";
    if ((status === 2) !== errors.length > 0)
      breaches.push(`check ends in ${status} with ${errors.length} errors`);
    if (judged !== 2 && errors.length > 0) breaches.push(`judge ends in ${judged} over ${errors[0]!.code}`);
    if (judged === 2 && errors.length === 0) breaches.push("judge refuses what check does not");
    if (mutant.planted && outcome === "silent") breaches.push("an invalid cell is taken without a remark");
    // Two commands, each of which may take so long.
    if (seconds > 2 * longestSeconds) breaches.push(`${seconds.toFixed(1)} s of processor time`);
    const more = megabytes() - megabytesBefore;
    if (more > mostMegabytes) breaches.push(`${more.toFixed(0)} MB more than before the first mutant`);
    if (isWhole && program !== null) breaches.push(...wholeProcess(program, room, data));
    const beside = readdirSync(room).filter((name) => !["data", "site"].includes(name));
    if (beside.length > 0) breaches.push(`written beside the output: ${beside.join(", ")}`);
  } catch (fault) {
    breaches.push(fault instanceof Error ? (fault.stack ?? fault.message).slice(0, 800) : String(fault));
  } finally {
    for (const name of readdirSync(room)) rmSync(join(room, name), { recursive: true, force: true });
  }
  return { kind: mutant.kind, outcome, seconds, breaches };
}

async function said(...words: string[]): Promise<{ status: number; out: string }> {
  let out = "";
  const status = await runCommandLine(words, {
    out: (text) => {
      out += text;
    },
    err: () => {},
    progress: () => {},
    watched: false,
    interrupted: () => Promise.resolve(),
  });
  return { status, out };
}

async function checked(data: string): Promise<{ status: number; problems: Problem[] }> {
  const { status, out } = await said("check", "--json", "--data", data);
  return { status, problems: (JSON.parse(out) as { problems: Problem[] }).problems };
}

async function judgedStatus(data: string): Promise<number> {
  const { status, out } = await said("judge", "--json", "--data", data);
  if (status === 2 ? out !== "" : out === "")
    throw new Error(`judge ends in ${status} and prints ${out.length} characters`);
  return status;
}

/** Builds the site in a process of its own. */
function wholeProcess(program: URL, room: string, data: string): string[] {
  const words = [fileURLToPath(program), "build", "--data", data, "--out", join(room, "site")];
  const { status, stdout, stderr } = spawnSync(process.execPath, words, {
    encoding: "utf8",
    timeout: longestBuildSeconds * 1000,
  });
  const breaches: string[] = [];
  if (status !== 0 && status !== 2) breaches.push(`build ends in ${status}: ${stderr.slice(0, 300)}`);
  if (/^ {4}at /m.test(stdout + stderr)) breaches.push(`build prints a stack trace: ${stderr.slice(0, 300)}`);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  if (/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/.test(stdout + stderr))
    breaches.push("build prints a control character");
  return breaches;
}

const outcomes = ["refused", "remarked", "silent", "fault"];

function table(tried: readonly Tried[]): string[] {
  const kinds = [...new Set(tried.map(({ kind }) => kind))].sort();
  const rows = kinds.map((kind) => {
    const own = tried.filter((one) => one.kind === kind);
    return [
      kind,
      own.length,
      ...outcomes.map((outcome) => own.filter((one) => one.outcome === outcome).length),
    ];
  });
  const seconds = tried.map((one) => one.seconds).sort((a, b) => a - b);
  const share = (part: number) => (seconds[Math.floor(part * (seconds.length - 1))] ?? 0).toFixed(2);
  return [
    ["class".padEnd(10), "mutants", ...outcomes].join("  "),
    ...rows.map(([kind, ...counts]) =>
      [
        String(kind).padEnd(10),
        ...counts.map((count, i) => String(count).padStart(i === 0 ? 7 : outcomes[i - 1]!.length)),
      ].join("  "),
    ),
    `check and judge, processor time: median ${share(0.5)} s, 99 of 100 within ${share(0.99)} s, longest ${share(1)} s`,
  ];
}
