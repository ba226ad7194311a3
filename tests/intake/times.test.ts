import { describe, expect, test } from "vitest";
import { Times, utcTime } from "../../src/intake/csv/times.ts";

const dublin = new Times("Europe/Dublin");

describe("times", () => {
  test.each([
    ["2026-05-21 10:00", "2026-05-21T09:00:00Z", "2026-05-21 10:00:00"],
    ["2026-05-21T10:00:30", "2026-05-21T09:00:30Z", "2026-05-21 10:00:30"],
    ["2026-01-21 10:00:00", "2026-01-21T10:00:00Z", "2026-01-21 10:00:00"],
    ["2026-05-21T10:00:00+01:00", "2026-05-21T09:00:00Z", "2026-05-21 10:00:00"],
    ["2026-05-21T10:00:00-05:00", "2026-05-21T15:00:00Z", "2026-05-21 16:00:00"],
    ["2026-05-21t10:00:00.25z", "2026-05-21T10:00:00.250Z", "2026-05-21 11:00:00"],
    ["2026-05-21 10:00:20.0007", "2026-05-21T09:00:20.000700Z", "2026-05-21 10:00:20"],
    ["2026-05-21T10:00:20,0000019+01:00", "2026-05-21T09:00:20.000001Z", "2026-05-21 10:00:20"],
    ["1969-12-31T23:59:59.999999Z", "1969-12-31T23:59:59.999999Z", "1970-01-01 00:59:59"],
    ["2026-05-31 23:59:59", "2026-05-31T22:59:59Z", "2026-05-31 23:59:59"],
    ["2026-10-25 00:59:59", "2026-10-24T23:59:59Z", "2026-10-25 00:59:59"],
    ["2026-10-25 02:00:00", "2026-10-25T02:00:00Z", "2026-10-25 02:00:00"],
    ["2026-10-25T01:30:00+01:00", "2026-10-25T00:30:00Z", "2026-10-25 01:30:00"],
    ["2026-10-25T01:30:00+00:00", "2026-10-25T01:30:00Z", "2026-10-25 01:30:00"],
    ["2024-02-29 12:00:00", "2024-02-29T12:00:00Z", "2024-02-29 12:00:00"],
  ])("%s is %s", (text, utc, local) => {
    expect(dublin.read(text)).toMatchObject({ utc, local });
  });

  test.each([
    ["2026-10-25 01:30:00", "time-twice"],
    ["2026-03-29 01:30:00", "time-skipped"],
    ["2026-02-29 12:00:00", "time-impossible"],
    ["2026-13-01 12:00:00", "time-impossible"],
    ["2026-05-21 24:00:00", "time-impossible"],
    ["2026-05-21 10:60:00", "time-impossible"],
    ["2026-05-21T10:00:00+19:00", "time-impossible"],
    ["0000-05-21 10:00:00", "time-impossible"],
    ["21.05.2026 10:00", "time-unreadable"],
    ["2026-05-21", "time-unreadable"],
    ["46163.4167", "time-unreadable"],
    ["2026-05-21 10:00 pm", "time-unreadable"],
  ])("%s is refused as %s", (text, code) => {
    expect(dublin.read(text)).toMatchObject({ code });
  });

  test("a microsecond is kept, in winter, in summer and on the day of the change", () => {
    const us = (text: string) => (dublin.read(text) as { epochUs: number }).epochUs;
    for (const day of ["2026-01-21", "2026-05-21", "2026-10-25"])
      expect(us(`${day} 10:00:20.000701`) - us(`${day} 10:00:20`), day).toBe(701);
    expect(us("1969-12-31T23:59:59.999999Z")).toBe(-1);
  });

  test("half-hour zones and zones south of the equator change their clocks too", () => {
    const adelaide = new Times("Australia/Adelaide");
    expect(adelaide.read("2026-01-10 12:00:00")).toMatchObject({ utc: "2026-01-10T01:30:00Z" });
    expect(adelaide.read("2026-07-10 12:00:00")).toMatchObject({ utc: "2026-07-10T02:30:00Z" });
    expect(adelaide.read("2026-04-05 02:30:00")).toMatchObject({ code: "time-twice" });
    expect(adelaide.read("2026-10-04 02:30:00")).toMatchObject({ code: "time-skipped" });
  });

  test("the order of asking changes nothing", () => {
    const texts = [
      "2026-10-25 00:30:00",
      "2026-01-01 00:00:00",
      "2026-10-25 03:00:00",
      "2026-06-01 12:00:00",
      "2026-10-25T00:59:59Z",
      "2026-10-25T01:00:00Z",
    ];
    const forth = new Times("Europe/Dublin");
    const back = new Times("Europe/Dublin");
    const there = texts.map((text) => forth.read(text));
    expect(
      [...texts]
        .reverse()
        .map((text) => back.read(text))
        .reverse(),
    ).toEqual(there);
  });

  test("without a zone an offset is enough, and the clock is shown as written", () => {
    const nowhere = new Times(null);
    expect(nowhere.read("2026-05-21T10:00:00-05:00")).toMatchObject({
      utc: "2026-05-21T15:00:00Z",
      local: "2026-05-21 10:00:00",
    });
    expect(nowhere.read("2026-05-21 10:00:00")).toMatchObject({ code: "time-without-zone" });
  });
});

describe("an instant that is written in UTC", () => {
  const zoneless = new Times(null);

  test.each([
    "2026-05-21T10:00:30Z",
    "2026-05-21T10:00:30.250Z",
    "2026-05-21T10:00:30.000007Z",
    "1969-12-28T23:59:59.999999Z",
    "0999-01-01T00:00:00Z",
  ])("%s is what a reading of clocks makes of it", (text) => {
    expect(utcTime(text)).toEqual({ epochUs: (zoneless.read(text) as { epochUs: number }).epochUs });
  });

  test.each([
    "2026-02-30T10:00:30Z",
    "2026-13-01T10:00:30Z",
    "2026-05-00T10:00:30Z",
    "2026-05-21T24:00:00Z",
    "2026-05-21T10:60:00Z",
    "2026-05-21T10:00:60Z",
    "0050-05-21T10:00:30Z",
    "2026-05-21 10:00:30Z",
    "2026-05-21T10:00:30+",
    "2026-05-21T10:00:3 Z",
    "2026-05-21T10:00:30.2 0Z",
    "2026-05-21T10:00:30,250Z",
    "2026-05-21T10:00:30.25Z",
    "+026-05-21T10:00:30Z",
    "2026-05-21T10.00.30Z",
    "",
  ])("%s is left to those who say why it is none, or how else it is read", (text) => {
    expect(utcTime(text)).toBeNull();
  });
});
