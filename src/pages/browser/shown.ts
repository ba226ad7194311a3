import type { LoggedPass } from "../aisle/pass.ts";
import type { Progress } from "../aisle/route.ts";
import type { Draft, Standing } from "../aisle/steps.ts";
import type { WalkData, WalkRoute } from "../aisle/walk-data.ts";
import { clockOf, duration } from "./clock.ts";
import { apart, at, button, element, valueText } from "./elements.ts";

export const passes = (count: number) => `${count} ${count === 1 ? "pass" : "passes"}`;

/** The pass at hand: the next one, the one under way, or a logged one that is being changed. */
export interface ShownPass {
  pass: string;
  planned: string | null;
  conditions: Record<string, string>;
  /** Of the next pass, where the plan asks for it: its combination. */
  cell?: number | undefined;
}

function conditionTexts(conditions: Record<string, string>, { columns }: WalkData) {
  return Object.entries(conditions)
    .filter(([, value]) => value !== "")
    .map(([name, value]) => {
      const column = columns.find((one) => one.column === name) ?? { label: name, unit: null };
      return { label: column.label, value: valueText(value, column) };
    });
}

export function combination(conditions: Record<string, string>, data: WalkData): string {
  const texts = conditionTexts(conditions, data).map(({ value }) => value);
  return texts.length === 0 ? "every pass" : texts.join(", ");
}

/** In words large enough to be read at arm's length. */
function showAsked(conditions: Record<string, string>, data: WalkData): void {
  at("asked").replaceChildren(
    ...conditionTexts(conditions, data).map(({ label, value }) =>
      element("div", {}, [element("dt", {}, [apart(label)]), element("dd", {}, [apart(value)])]),
    ),
  );
}

/** The pass at hand, large: its word first, then how it is to be walked, then what the one large button does. */
export function showStage(
  shown: {
    standing: Standing;
    /** Null where nothing is left to walk. */
    pass: ShownPass | null;
    /** What is typed of a pass that was stopped or is being changed. */
    draft: Draft | null;
    route: WalkRoute;
    done: Progress;
  },
  data: WalkData,
): void {
  const { standing, pass, draft, done } = shown;
  const { stage } = standing;
  const main = at("main");
  main.className = `main ${stage}`;
  main.hidden = pass === null;
  showAsked(pass?.conditions ?? {}, data);
  if (pass === null) {
    at("stage-word").textContent =
      done.planned === 0 ? "No pass is planned here" : "All planned passes are walked";
    at("stage-line").textContent = "Walk an extra pass, go to another read point, or save the log.";
    return;
  }
  const changing = stage === "ready" && draft !== null;
  at("stage-word").replaceChildren(`${stageWord(stage, changing, pass)}: `, apart(pass.pass));
  main.textContent = changing ? "Keep the change" : buttonWord(standing, pass, draft);
  at("stage-line").replaceChildren(...stageLine(standing, pass, shown));
}

function stageWord(stage: Standing["stage"], changing: boolean, { planned }: ShownPass): string {
  if (changing) return "Changing";
  if (stage === "running") return "Running";
  if (stage === "stopped") return "Walked";
  return planned === null ? "Extra pass" : "Next";
}

function buttonWord({ stage, current }: Standing, { pass }: ShownPass, draft: Draft | null): string {
  if (stage === "ready") return `Start ${pass}`;
  if (stage === "running") return "Stop";
  const { missed, missedCount, isVoid } = draft!.fields;
  const count = current.manifest === null ? missedCount : missed.length;
  return isVoid ? "Save as void" : count === 0 ? "Save: none missed" : `Save: ${count} missed`;
}

function stageLine(
  { stage, current, passes: logged }: Standing,
  { cell }: ShownPass,
  { draft, route, done }: { draft: Draft | null; route: WalkRoute; done: Progress },
): (Node | string)[] {
  if (stage === "running") return [`Started at ${clockOf(current.startedAt)}.`];
  const walked = stage === "stopped" ? current : typeof draft?.of === "number" ? logged[draft.of]! : null;
  if (walked !== null) {
    const { startedAt, endedAt } = walked;
    return [`${clockOf(startedAt)} to ${clockOf(endedAt)}, ${duration(endedAt.ms - startedAt.ms)}.`];
  }
  if (done.planned === 0) return [];
  const own = cell === undefined ? undefined : done.cells[cell];
  const here = own === undefined ? "." : `; ${own.done} of ${own.planned} in this combination.`;
  return [`${done.done} of ${passes(done.planned)} done at `, apart(route.name), here];
}

/** How far the plan of a read point is done. */
export function showDone(route: WalkRoute, { planned, done, cells }: Progress, data: WalkData): void {
  at("done-line").replaceChildren(
    ...(planned === 0
      ? ["No number of passes is planned at ", apart(route.name), "."]
      : [`${done} of ${passes(planned)} done at `, apart(route.name), "."]),
  );
  at("done").tBodies[0]!.replaceChildren(
    ...cells.map((cell, place) =>
      element("tr", {}, [
        element("th", { scope: "row" }, [apart(combination(route.cells[place]!.conditions, data))]),
        element("td", { class: "number", text: String(cell.done) }),
        element("td", {
          class: "number",
          text: cell.planned === null ? "none is enough" : String(cell.planned),
        }),
        element("td", { text: cellWord(cell) }),
      ]),
    ),
  );
}

function cellWord({ planned, done, isDone }: Progress["cells"][number]): string {
  if (planned === null) return "out of reach";
  if (planned === 0) return "not asked";
  return isDone ? "done" : done === 0 ? "missing" : "short";
}

/** The passes logged, the latest first: it is the one that is looked for. */
export function showLog(
  logged: LoggedPass[],
  data: WalkData,
  { mayChange, change }: { mayChange: boolean; change: (index: number) => void },
): void {
  const voids = logged.filter(({ voidReason }) => voidReason !== "").length;
  at("log-line").textContent =
    logged.length === 0
      ? "Nothing yet."
      : `${passes(logged.length)}, ${voids === 0 ? "none of them void" : `${voids} of them void`}; the latest first.`;
  const rows = logged.map((pass, index) =>
    element("li", {}, [
      element("div", { class: "logged" }, loggedLines(pass, data)),
      button("Change", () => change(index), {
        "aria-label": `Change ${pass.pass}`,
        disabled: !mayChange,
      }),
    ]),
  );
  at("log").replaceChildren(...rows.reverse());
}

function loggedLines(pass: LoggedPass, data: WalkData): HTMLElement[] {
  const { voidReason, note, walkedBy, startedAt, endedAt } = pass;
  const name = data.routes.find(({ readPoint }) => readPoint === pass.readPoint)?.name ?? pass.readPoint;
  const line = (children: (Node | string)[]) => element("span", { class: "line" }, children);
  const filled = (label: string, text: string) => (text === "" ? [] : [line([label, apart(text)])]);
  return [
    line([
      element("b", { text: pass.pass }),
      voidReason === "" ? "" : element("span", { class: "void-word", text: "void" }),
      element("span", { class: "detail" }, [apart(name), `, ${clockOf(startedAt)} to ${clockOf(endedAt)}`]),
    ]),
    line([apart(combination(pass.conditions, data))]),
    line([`${missedText(pass)}; ${strayText(pass)}`]),
    ...filled("Missed: ", (pass.missed ?? []).join(" ")),
    ...filled("Strays: ", pass.strays?.codes.join(" ") ?? ""),
    ...filled("Void: ", voidReason),
    ...filled("Note: ", note),
    ...filled("Walked by ", walkedBy),
  ];
}

export function missedText({
  missedCount,
  presented,
}: Pick<LoggedPass, "missedCount" | "presented">): string {
  return missedCount === 0 ? `all ${presented} tags read` : `${missedCount} of ${presented} missed`;
}

function strayText({ strays }: LoggedPass): string {
  if (strays === null) return "strays: nobody looked";
  if (strays.count === 0) return "no stray heard";
  return `${strays.count === 1 ? "1 stray" : `${strays.count} strays`} heard`;
}
