/** Numbers that come from no file, each with the reason why it may stand on a page. */
const fixed: { statement: string; because: string }[] = [
  { statement: "100 99.9 99.5 99 98 95 90 80 50 0 %", because: "labels of an axis stretched near 100 %" },
  { statement: "100 99.9 99.5 99 98 95 90 80 50 20 %", because: "the same, as far as a narrow one has room" },
  { statement: "100 99.9 99.5 98 95 90 80 50 0 %", because: "the same on the page of a pair of rounds" },
  { statement: "0 0.1 0.5 1 2 5 10 20 50 %", because: "labels of an axis stretched near 0" },
  { statement: "0 0.1 0.5 1 2 5 10 20 50 80 %", because: "the same axis where it ends at 80 %" },
  { statement: "0 0.1 0.5 1 2 5 10 20 50 100 %", because: "the same axis where it runs to the end" },
  { statement: "0 20 40 60 80 100 %", because: "labels of an even axis" },
  { statement: "−50 −52 −54 −56 −58 −60 −62 dBm", because: "labels of the axis of signal strength" },
  {
    statement: "−100 −20 −5 −1 0 1 5 20 50",
    because: "labels of an axis of differences stretched near 0",
  },
  { statement: "−100 −20 −5 −2 0 1 2 5 10 20 50", because: "the same, as far as the narrow one has room" },
  { statement: "two lines for the two rounds and one", because: "describes the picture" },
  { statement: "right of 0 is better … left of 0 worse", because: "says how to read it" },
  { statement: "A line that crosses 0", because: "the same" },
  { statement: "An interval that excludes 0 … that includes 0", because: "the same" },
  {
    statement: "less than 0.5 percentage points either way",
    because: "what matters where facility.yaml is silent",
  },
  { statement: "The scale is stretched near 100 %", because: "says how the axis is drawn" },
  { statement: "The scale is stretched near 0", because: "the same for what should be low" },
  { statement: "The axis ends at 80 %", because: "says where the axis ends" },
  { statement: "Bars run from 0 to 100 %", because: "says what the bars of the grid span" },
  { statement: "in a step of 2 dB", because: "the step that the signals are counted in" },
  { statement: "SHA-256", because: "the name of the digest" },
  { statement: "A4 or Letter", because: "a size of paper" },
  { statement: "whether two intervals overlap", because: "a sentence on any two intervals" },
];

export const fixedNumbers = fixed.map(({ statement }) => statement);
