import type { CurrentPass, LoggedPass, StartedPass } from "../aisle/pass.ts";
import { faultsOf, fieldsAfter, fieldsOf, recordOf } from "../aisle/record.ts";
import { freeExtraId, freeId, openPasses, progress, type Walk } from "../aisle/route.ts";
import {
  afterStep,
  type ChosenPass,
  redo,
  type Standing,
  type State,
  type Step,
  standing,
  undo,
} from "../aisle/steps.ts";
import type { WalkData, WalkRoute } from "../aisle/walk-data.ts";
import { clockOf, duration, stampNow } from "./clock.ts";
import { apart, at } from "./elements.ts";
import { KeptLog } from "./kept-log.ts";
import { OtherPasses } from "./other-passes.ts";
import { PassForm } from "./pass-form.ts";
import { combination, missedText, type ShownPass, showDone, showLog, showStage } from "./shown.ts";

/** A glove taps twice: what follows a start or a stop this closely is not meant. */
const secondTapMs = 400;

const nounOf: Record<Step["do"], string> = {
  start: "the start",
  stop: "the stop",
  save: "the saving",
  change: "the change",
};

const say = (text: string) => {
  at("said").textContent = text;
};

const toStage = () => at("stage").scrollIntoView({ block: "start" });

/** The page to log a walk on: one large button that goes from start to stop to save, and everything around it. */
class AislePage {
  readonly #data: WalkData;
  readonly #form: PassForm;
  readonly #kept: KeptLog;
  readonly #others: OtherPasses;
  #lastPress = Number.NEGATIVE_INFINITY;
  #listed: unknown[] = [];

  constructor(data: WalkData) {
    this.#data = data;
    this.#form = new PassForm(data, (fields) => {
      this.#put({ draft: { ...this.#state.draft!, fields } });
    });
    this.#kept = new KeptLog(data, (_, elsewhere) => {
      // What another tab typed has to take the place of what stands in the fields here.
      if (elsewhere) this.#form.hide();
      this.#render();
    });
    this.#others = new OtherPasses(data, (chosen) => this.#choose(chosen));
    this.#listen();
    if (this.#state.steps.length > 0) this.#lowerCautions();
    at("cautions-read").addEventListener("click", () => {
      this.#lowerCautions();
      at("main").focus();
    });
    at("without-script").hidden = true;
    at("on-paper").hidden = true;
    at("walk").hidden = false;
    setInterval(() => this.#tick(), 1000);
    this.#render();
    this.#sayNext();
  }

  get #state(): State {
    return this.#kept.state;
  }

  #put(part: Partial<State>): void {
    this.#kept.put({ ...this.#state, ...part });
  }

  #listen(): void {
    at("main").addEventListener("click", () => this.#press());
    // A key held down is one press.
    at("main").addEventListener("keydown", (event) => event.repeat && event.preventDefault());
    at("undo").addEventListener("click", () => this.#undo());
    at("redo").addEventListener("click", () => this.#redo());
    at("read-point").addEventListener("change", () => {
      this.#put({ readPoint: at("read-point").value });
      this.#sayNext();
    });
    at("walked-by").addEventListener("input", () => this.#put({ walkedBy: at("walked-by").value }));
  }

  #press(): void {
    const now = Date.now();
    const since = now - this.#lastPress;
    if (since >= 0 && since < secondTapMs) return;
    this.#lastPress = now;
    const stands = standing(this.#state);
    if (stands.stage === "running") this.#stop();
    else if (stands.stage === "stopped") this.#save(stands.current);
    else if (this.#state.draft !== null) this.#keepChange(stands.passes);
    else this.#start(this.#walkAt(stands));
  }

  #start(walk: Walk): void {
    const next = this.#upcoming(walk);
    if (next === null) return;
    const { readPoint, round, columns, needed, varied } = walk.route;
    const { load, tagsPerPass } = this.#data;
    const pass: StartedPass = {
      ...{ readPoint, round, columns, needed, varied },
      pass: next.pass,
      planned: next.planned,
      conditions: next.conditions,
      manifest: load?.manifest ?? null,
      tagsPerPass: load?.tags.length ?? tagsPerPass,
    };
    const now = stampNow();
    this.#kept.put({
      ...afterStep(this.#state, { do: "start", pass, at: now }),
      chosen: null,
      readPoint,
    });
    toStage();
    say(`${pass.pass} started at ${clockOf(now)}.`);
  }

  #stop(): void {
    const stopped = afterStep(this.#state, { do: "stop", at: stampNow() });
    const { stage, current, passes } = standing(stopped);
    if (stage !== "stopped") return;
    const fields =
      stopped.draft?.fields ??
      fieldsAfter(current, { data: this.#data, walkedBy: this.#state.walkedBy, passes });
    this.#kept.put({ ...stopped, draft: { of: "current", fields } });
    toStage();
    say(`${current.pass} stopped at ${clockOf(current.endedAt)}.`);
  }

  #save(pass: CurrentPass): void {
    const fields = { ...this.#state.draft!.fields, walkedBy: this.#state.walkedBy };
    this.#log(pass, "saved", { do: "save", fields, record: recordOf(pass, fields) });
  }

  #keepChange(passes: LoggedPass[]): void {
    const { of, fields } = this.#state.draft!;
    const index = of as number;
    const pass = passes[index]!;
    this.#log(pass, "changed", { do: "change", index, record: recordOf(pass, fields) });
  }

  /** Takes the step that logs what is typed, unless something stands in its way. */
  #log(pass: CurrentPass, done: string, step: Step & { do: "save" | "change" }): void {
    const faults = faultsOf(pass, this.#state.draft!.fields, this.#data);
    this.#form.showFaults(faults);
    if (faults.length > 0) {
      say("Not saved yet: see what is missing.");
      return;
    }
    this.#kept.put(afterStep(this.#state, step));
    this.#lowerCautions();
    const asVoid = step.record.voidReason === "" ? "" : " as void";
    say(`${pass.pass} ${done}${asVoid}: ${missedText(step.record)}.`);
    toStage();
  }

  /** Once they were read the next pass stands above them. */
  #lowerCautions(): void {
    at("cautions").open = false;
    at("cautions-read").hidden = true;
    if (at("stage").nextElementSibling !== at("cautions")) at("stage").after(at("cautions"));
  }

  #change(index: number): void {
    const pass = standing(this.#state).passes[index]!;
    this.#put({ draft: { of: index, fields: fieldsOf(pass) } });
    toStage();
  }

  #undo(): void {
    const { stage, passes } = standing(this.#state);
    const { draft, steps } = this.#state;
    if (stage === "ready" && draft !== null) {
      const { pass } = passes[draft.of as number]!;
      this.#put({ draft: null });
      say(`${pass} is left as it was.`);
      return;
    }
    const step = steps.at(-1)!;
    const { pass } = passOf(step, standing(this.#state));
    this.#kept.put(undo(this.#state));
    say(`Undone: ${nounOf[step.do]} of ${pass}.`);
  }

  #redo(): void {
    const { step } = this.#state.undone.at(-1)!;
    this.#kept.put(redo(this.#state));
    say(`Done again: ${nounOf[step.do]} of ${passOf(step, standing(this.#state)).pass}.`);
  }

  #choose(chosen: ChosenPass): void {
    this.#put({ chosen });
    at("others").open = false;
    toStage();
    say(chosen.planned === null ? "An extra pass is next." : `${chosen.planned} is next.`);
  }

  /** The read point that was picked; before that the first where something is left to walk. */
  #walkAt({ current, passes }: Standing): Walk {
    const { routes } = this.#data;
    const of = (route: WalkRoute): Walk => ({ data: this.#data, route, passes });
    const picked = [current?.readPoint, this.#state.readPoint]
      .map((id) => routes.find(({ readPoint }) => readPoint === id))
      .find((route) => route !== undefined);
    if (picked !== undefined) return of(picked);
    const planned = routes.filter((route) => route.passes.length > 0);
    return of(planned.find((route) => openPasses(of(route)).length > 0) ?? planned[0] ?? routes[0]!);
  }

  /** The pass that a start would begin: the one picked, else the next that is planned. */
  #upcoming(walk: Walk): ShownPass | null {
    const { route } = walk;
    const picked = this.#state.chosen?.readPoint === route.readPoint ? this.#state.chosen : null;
    if (picked?.planned === null) {
      return { planned: null, conditions: picked.conditions, pass: freeExtraId(walk) };
    }
    const open = openPasses(walk);
    const next = open.find(({ pass }) => pass === picked?.planned) ?? open[0];
    if (next === undefined) return null;
    const { conditions } = route.cells[next.cell]!;
    return { planned: next.pass, cell: next.cell, conditions, pass: freeId(walk, next.pass) };
  }

  #render(): void {
    const stands = standing(this.#state);
    const { stage, current, passes } = stands;
    const { draft, walkedBy, steps, undone } = this.#state;
    const walk = this.#walkAt(stands);
    const changed = stage === "ready" && draft !== null ? passes[draft.of as number]! : null;
    const idle = stage === "ready" && changed === null;
    const next = idle ? this.#upcoming(walk) : null;
    const typedAbout = stage === "stopped" ? current : changed;
    const done = progress(walk);
    at("read-point").value = walk.route.readPoint;
    at("read-point").disabled = !idle;
    if (at("walked-by") !== document.activeElement) at("walked-by").value = walkedBy;
    const pass = current ?? changed ?? next;
    showStage({ standing: stands, pass, draft, route: walk.route, done }, this.#data);
    if (typedAbout === null) this.#form.hide();
    else {
      const key = `${draft!.of} ${typedAbout.readPoint} ${typedAbout.pass} ${steps.length}`;
      this.#form.show(typedAbout, draft!.fields, key);
    }
    at("others").hidden = !idle;
    this.#others.show(walk, next);
    this.#showLists(walk, idle);
    this.#kept.render(stands);
    at("undo").textContent = changed === null ? "Undo" : "Leave as it was";
    at("undo").disabled = changed === null && steps.length === 0;
    at("redo").hidden = changed !== null || undone.length === 0;
    this.#tick();
  }

  /** Typing changes neither list, and a long walk makes them long. */
  #showLists(walk: Walk, mayChange: boolean): void {
    const what = [this.#state.steps, walk.route, mayChange];
    if (what.every((each, i) => each === this.#listed[i])) return;
    this.#listed = what;
    showDone(walk.route, progress(walk), this.#data);
    showLog(walk.passes, this.#data, { mayChange, change: (index) => this.#change(index) });
  }

  /** The button is in reach before the pass that it starts is in sight, so the bar says which one that is. */
  #sayNext(): void {
    const stands = standing(this.#state);
    if (stands.stage !== "ready" || this.#state.draft !== null) return;
    const walk = this.#walkAt(stands);
    const next = this.#upcoming(walk);
    if (next === null) return;
    const how = apart(combination(next.conditions, this.#data));
    at("said").replaceChildren(apart(walk.route.name), ": ", how, ".");
  }

  #tick(): void {
    const { stage, current } = standing(this.#state);
    const now = stampNow();
    at("clock").textContent = `Clock: ${now.text.slice(0, 10)}, ${clockOf(now)}, UTC${now.text.slice(19)}.`;
    at("timer").hidden = stage !== "running";
    if (stage === "running") at("timer").textContent = duration(now.ms - current.startedAt.ms);
  }
}

/** The pass that the last step was about. */
function passOf(step: Step, { current, passes }: Standing): StartedPass {
  return current ?? passes[step.do === "change" ? step.index : passes.length - 1]!;
}

const island = document.getElementById("walk-data");
if (island !== null) new AislePage(JSON.parse(island.textContent ?? ""));
