/** A word of the trade or of statistics as this report uses it. */
export interface GlossaryEntry {
  term: string;
  meaning: string;
}

/** By term. No published standard defines stray and cross read: the meanings are those of this report. */
export const glossary: GlossaryEntry[] = [
  {
    term: "as found",
    meaning:
      "The state of a read point before anything was adjusted, and the round of passes that recorded it.",
  },
  {
    term: "as left",
    meaning: "The state of a read point after the last adjustment, and the round of passes that recorded it.",
  },
  {
    term: "band",
    meaning:
      "A range of a measured condition, named by its ends: a speed in the band 1 to 2 m/s is above 1 and at most 2. The first band includes its lower end.",
  },
  {
    term: "bystander",
    meaning:
      "A tag placed on purpose where the read point must not read it, for example in the neighbouring lane. Each pass is one bystander presentation.",
  },
  {
    term: "complete pass",
    meaning: "A pass in which every presented tag was read.",
  },
  {
    term: "concession",
    meaning:
      "Permission by the client to accept something that does not conform, limited in extent and usually in time. It is shown beside a finding and never changes it.",
  },
  {
    term: "condition",
    meaning: "How a pass was made or how a tag was placed in it: speed, orientation, load.",
  },
  {
    term: "confidence",
    meaning:
      "How often intervals made in this way would contain the true rate of the read point, if the walk were repeated many times.",
  },
  {
    term: "criterion",
    meaning: "What was agreed: a measure, a limit, and the read points and conditions to which it applies.",
  },
  {
    term: "cross read",
    meaning:
      "A read of a tag that belongs to a neighbouring lane or read point. In the log it is a bystander that was read, or a stray.",
  },
  {
    term: "design effect",
    meaning:
      "How many presentations are worth one independent presentation: presentations divided by the effective sample.",
  },
  {
    term: "dwell time",
    meaning: "How long a tag is in the read zone: the zone's length over the tag's speed.",
  },
  {
    term: "effective sample",
    meaning:
      "How many independent presentations the presentations are worth, because tags of one pass fail together and a weak tag fails again and again.",
  },
  {
    term: "EIRP",
    meaning:
      "Equivalent isotropically radiated power: what an antenna radiates in its main beam, as if it radiated so in all directions. e.r.p. is the same against a half-wave dipole, and 2.15 dB less.",
  },
  {
    term: "estimate",
    meaning: "The rate that was observed, k of n. It is never shown without the interval around it.",
  },
  {
    term: "exploratory",
    meaning:
      "One of many comparisons made to find out where a change may lie. A single one proves little, because among many some always seem to show something.",
  },
  {
    term: "finding",
    meaning:
      "One criterion judged at one read point, and for one value of a condition if the criterion must be met for each value.",
  },
  {
    term: "gap",
    meaning:
      "A combination of conditions that was not walked. It says nothing about the read point, good or bad.",
  },
  {
    term: "idle read",
    meaning:
      "A read between the first and the last timed pass of a round while no pass was under way. Each tag counts once in every minute in which it was read.",
  },
  {
    term: "interval",
    meaning:
      "The rates that fit the counts at the stated confidence, from the lower to the upper bound. The fewer the presentations, the wider it is.",
  },
  {
    term: "k of n",
    meaning: "How many of the possible ones were counted: 598 of 600 tags read.",
  },
  { term: "missed tag", meaning: "A tag that was presented in a pass and not read in it." },
  {
    term: "open point",
    meaning:
      "Something that still has to be resolved, with an owner and a due date. A list of open points is also called a punch list or snag list.",
  },
  {
    term: "paired",
    meaning:
      "Said of two rounds if each presentation of one has its partner in the other: the same tag in the pass of the same name under the same conditions.",
  },
  {
    term: "pass",
    meaning: "One movement through a read point, from entry to exit, with the tags that are carried.",
  },
  {
    term: "pass window",
    meaning:
      "The time in which reads belong to a timed pass: from a little before it begins to a little after it ends.",
  },
  {
    term: "percentage point",
    meaning:
      "The unit of a difference between two percentages: from 95\u202f% to 98\u202f% is three percentage points.",
  },
  {
    term: "persistence",
    meaning: "How long a tag that has answered keeps silent, by the session that the reader works in.",
  },
  {
    term: "presentation",
    meaning: "One tag in one pass. Twenty tags carried through ten times are two hundred presentations.",
  },
  {
    term: "pure identity",
    meaning:
      "The object that a GS1 code on a tag identifies, as a URI without the parts that only matter in the tag: urn:epc:id:sgtin:0614141.112345.400 is one object of a trade item.",
  },
  {
    term: "raw code",
    meaning:
      "A code that follows no GS1 scheme, shown as its digits. Most tags in the field have one; it is not a fault.",
  },
  {
    term: "read point",
    meaning:
      "A place where tags are meant to be read: reader, antennas, mounting and settings taken together.",
  },
  {
    term: "reader log",
    meaning:
      "The file in which a reader, or the software behind it, wrote one row for each tag read. The rows are summed; single rows are not on these pages.",
  },
  {
    term: "round",
    meaning:
      "One campaign of passes with one set of settings. When something is changed, a new round begins.",
  },
  {
    term: "RSSI",
    meaning:
      "Received signal strength indication: how strong the signal of the tag was at the reader, in dBm. Values are negative; nearer to zero is stronger. Readers differ in how they measure it.",
  },
  {
    term: "sign-off round",
    meaning: "The round on whose passes the findings are based.",
  },
  {
    term: "silent bystander",
    meaning: "A bystander that was not read, as it should be.",
  },
  {
    term: "stray",
    meaning: "A tag that was read in a pass without having been presented in it.",
  },
  {
    term: "tally",
    meaning: "A log that counts the tags presented and read in a pass without naming them.",
  },
  {
    term: "timed pass",
    meaning:
      "A pass logged with its start, its end and its load, whose reads come from the reader's own log.",
  },
  {
    term: "void pass",
    meaning:
      "A pass that was spoiled by something outside the read point, with the reason in the log. It is kept, shown and counted, but left out of every rate.",
  },
];
