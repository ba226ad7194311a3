import { describe, expect, it } from "vitest";
import { eventEstimate } from "../../../src/measures/evidence/events.ts";
import {
  countedInWords,
  countText,
  decimalText,
  joined,
  statedNumber,
} from "../../../src/model/number-words.ts";
import type { Finding } from "../../../src/model/result/finding.ts";
import type { State } from "../../../src/model/state.ts";
import { dateText, momentText } from "../../../src/pages/words/dates.ts";
import {
  concessionSentence,
  findingSentence,
  remarkSentence,
  settleNote,
  settleSentence,
  withVoidsSentence,
} from "../../../src/pages/words/findings.ts";
import { groupText } from "../../../src/pages/words/labels.ts";
import { problemPlace, problemSentence } from "../../../src/pages/words/problems.ts";
import { verdictSentence } from "../../../src/pages/words/verdicts.ts";
import { sampleEstimate, sampleResult } from "../sample-result.ts";

/** Thin spaces made plain, so that the expected text can be typed. */
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

function findingOf(criterion: string, readPoint: string, group: string | null = null): Finding {
  const found = sampleResult.findings.find(
    (entry) =>
      entry.criterion === criterion &&
      entry.readPoint === readPoint &&
      (group === null || Object.values(entry.group ?? {}).includes(group)),
  );
  if (!found) throw new Error(`no finding ${criterion} at ${readPoint}`);
  return found;
}

describe("numbers", () => {
  it("parts thousands from five digits on and uses a true minus", () => {
    expect(plain(countText(1200))).toBe("1200");
    expect(plain(countText(1234567))).toBe("1 234 567");
    expect(decimalText(-0.04, 1)).toBe("0.0");
    expect(decimalText(-63.25, 2)).toBe("\u221263.25");
    expect(statedNumber(0.995 * 100)).toBe("99.5");
  });
  it("writes small counts in words up to twelve", () => {
    expect(countedInWords(1, "pass", "passes")).toBe("one pass");
    expect(countedInWords(12, "pass", "passes")).toBe("twelve passes");
    expect(countedInWords(13, "pass", "passes")).toBe("13 passes");
    expect(joined(["a", "b", "c"])).toBe("a, b and c");
  });
});

describe("sentences", () => {
  const say = (finding: Finding) =>
    plain(
      findingSentence(
        finding,
        sampleResult.criteria.find((entry) => entry.id === finding.criterion),
      ),
    );
  it("state the count, the figure, the interval and the limit of a finding", () => {
    expect(say(findingOf("read-rate", "exit"))).toBe(
      "239 of 240 tags read: 99.5 % (96.9 to 99.9); 99 % required.",
    );
    expect(say(findingOf("strays", "dock-2"))).toBe(
      "6 of 21 passes with a stray: 28.6 % (13.9 to 50.0); 8 % allowed.",
    );
    expect(say(findingOf("signal", "dock-1"))).toBe(
      "1200 of 1200 tags read: the weakest 5 % of presentations lie at or below \u221262.8 dBm (\u221263.0 to \u221262.8); \u221270 dBm required.",
    );
    expect(say({ ...findingOf("read-rate", "exit"), passes: 0, estimate: sampleEstimate(0, 0) })).toBe(
      "Not walked yet; 99 % required.",
    );
  });
  it("give the figure with the void passes included", () => {
    expect(plain(withVoidsSentence(findingOf("dock-read-rate", "dock-2", "edge-on")))).toMatch(
      /^Including the 2 void passes: 120 of 144 tags read, 83\.3 %/,
    );
    expect(withVoidsSentence(findingOf("read-rate", "exit"))).toBe("");
  });
  it("say what would settle a finding", () => {
    expect(settleSentence(findingOf("read-rate", "exit"))).toBe(
      "502 further presentations without a miss would settle it: about 51 more passes like these.",
    );
    const strays = { unit: "passes", furtherWithoutMiss: 26, chance: null, retune: false };
    expect(settleSentence({ ...findingOf("strays", "dock-1"), state: "undecided", toSettle: strays })).toBe(
      "26 further passes without a stray would settle it.",
    );
    expect(settleSentence(findingOf("read-rate", "desk"))).toBe(
      "At least four more passes are needed for a verdict.",
    );
    const onWrongSide = (chance: number): Finding => ({
      ...findingOf("read-rate", "exit"),
      toSettle: { unit: "presentations", furtherWithoutMiss: 826, chance, retune: chance < 0.1 },
    });
    expect(settleSentence(onWrongSide(0.331))).toMatch(
      /would come up in 33 of 100 walks .* exactly the limit\. 826 further presentations without a miss would settle it/,
    );
    expect(settleSentence(onWrongSide(0.06))).toMatch(
      /in 6 of 100 walks .*\. Look for the cause first\. If there is none, 826 further presentations/,
    );
    expect(settleNote(onWrongSide(0.331))).toBe("826 more without a miss");
    expect(settleNote(onWrongSide(0.06))).toBe("find the cause first; 826 more without a miss");
    expect(settleSentence(onWrongSide(0.331))).not.toMatch(/retun|cause/);
    expect(settleSentence(findingOf("signal", "dock-1"))).toBe("");
    expect(settleSentence({ ...findingOf("read-rate", "desk"), toSettle: { furtherPasses: 1 } })).toBe(
      "At least one more pass is needed for a verdict.",
    );
  });
  it("give the verdict of a facility by its read points", () => {
    const of = (...states: State[]) =>
      verdictSentence({
        criteria: sampleResult.criteria,
        readPoints: states.map((state) => ({ ...sampleResult.readPoints[0]!, state })),
      });
    expect(of("not-met", "not-met", "undecided", "met", "met", "met")).toBe(
      "Of six read points three meet their criteria, two do not and one is undecided.",
    );
    expect(of("not-met", "met")).toBe("Of two read points one meets its criteria and one does not.");
    expect(of("not-met", "not-met")).toBe("Neither read point meets its criteria.");
    expect(of("not-met", "not-met", "not-met")).toBe("None of the three read points meets its criteria.");
    expect(of("undecided", "untested", "met")).toBe(
      "Of three read points one meets its criteria, one is undecided and one untested.",
    );
    expect(of("not-met", "undecided", "undecided", "untested")).toBe(
      "Of four read points one does not meet its criteria, two are undecided and one is untested.",
    );
    expect(of("met", "met", "met")).toBe("All three read points meet their criteria.");
    expect(of("met", "met")).toBe("Both read points meet their criteria.");
    expect(of("untested", "untested")).toBe("Both read points are untested.");
    expect(of("untested")).toBe("The read point is untested.");
    expect(of()).toBe("No read point is declared, so nothing was judged.");
  });
  it("name a group by the condition's label and unit", () => {
    expect(groupText({ orientation: "edge-on" }, sampleResult.conditions)).toBe("Tag orientation: edge-on");
    expect(plain(groupText({ speed_m_s: "1 to 2" }, sampleResult.conditions))).toBe("Speed: 1 to 2 m/s");
    expect(groupText(null, [])).toBe("");
  });
  it("tell remarks, concessions and problems", () => {
    expect(remarkSentence({ code: "strays-not-recorded", passes: 3 }, [])).toBe(
      "Three passes were left out: the log does not record strays.",
    );
    const alike = { code: "signal-alike", k: 270, n: 300, share: 0.8, limitDbm: -65 } as const;
    const said = (sense: "at-least" | "at-most") =>
      remarkSentence({ ...alike, sense }, []).replace(/\u202f/g, " ");
    expect(said("at-least")).toBe(
      "The bounds take presentations as independent. Judged as a rate, with passes and tags that may be alike, 270 of 300 presentations at \u221265 dBm or stronger do not yet show 80 %.",
    );
    expect(said("at-most")).toContain("dBm or weaker do not yet show");
    expect(remarkSentence({ code: "own-round", round: "as-found" }, sampleResult.rounds)).toContain(
      "As found",
    );
    expect(concessionSentence(sampleResult.concessions[0]!)).toBe(
      "Accepted by Client's operations lead, on 22 May 2026, until 31 August 2026: The neighbouring lane is closed until the curtain is fitted.",
    );
    expect(concessionSentence(sampleResult.concessions[1]!)).toMatch(
      /^Accepted by .* It expired before the report was issued\.$/s,
    );
    expect(problemPlace(sampleResult.problems[0]!)).toBe("passes/as-left.csv:1:9");
    expect(problemSentence(sampleResult.problems[0]!)).toMatch(
      /^Found column .*; expected a declared column\. It/,
    );
  });
});

describe("dates", () => {
  it("are written out by hand, whatever the time zone", () => {
    expect(dateText("2026-05-21")).toBe("21 May 2026");
    expect(dateText("sometime")).toBe("sometime");
    expect(momentText("2026-05-21 09:14:00")).toBe("21 May 2026, 09:14:00");
    expect(momentText(null)).toBe("not recorded");
  });
});

describe("tags a minute", () => {
  const hour = (tags: number, minutes = 60) =>
    eventEstimate(
      {
        events: tags,
        minutes,
        byMinute: new Array<number>(Math.ceil(minutes)).fill(tags / minutes),
        stays: { squares: tags, longest: 1 },
      },
      0.95,
    );

  const idle = findingOf("idle", "dock-1");
  it("make a finding with its count over time, its interval and its limit", () => {
    expect(findingSentence(idle)).toBe(
      "3 tags read in 31.7 idle minutes: 0.095 tags a minute (0.020 to 0.277); 0.3 tags a minute allowed.",
    );
    const nothing = { ...idle, passes: 0, estimate: hour(0, 0) };
    expect(findingSentence(nothing)).toBe(
      "No timed pass was walked, so the idle time is not known; 0.3 tags a minute allowed.",
    );
  });
  it("stay the same with void passes included, so that nothing is said", () => {
    expect(withVoidsSentence({ ...idle, voidPasses: 1, withVoids: idle.estimate })).toBe("");
  });
  it("are settled by idle time without a read, if at all", () => {
    const further = (count: number | null): Finding => ({
      ...idle,
      toSettle: { unit: "idle minutes", furtherWithoutMiss: count, chance: null, retune: false },
    });
    expect(settleSentence(further(27))).toBe("27 further idle minutes without a read would settle it.");
    expect(settleNote(further(27))).toBe("27 more silent minutes");
    expect(settleSentence(further(null))).toBe(
      "More than ten million further idle minutes without a read would be needed to settle it.",
    );
  });
});
