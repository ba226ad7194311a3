interface Caution {
  subject: string;
  text: string;
}

/**
 * The usual cautions of work around readers: common practice, no source. They name no figures, since limits and distances
 * differ by country and equipment.
 */
export const cautions: Caution[] = [
  {
    subject: "Radio exposure",
    text: "A reader radiates from its antennas: do not stand close to an antenna that is on. Before work within reach of an antenna, switch the reader off, or have a competent person confirm that the exposure limits in force are kept.",
  },
  {
    subject: "Implants",
    text: "People with a pacemaker, a defibrillator or another active implant keep away from antennas until their physician or the implant's maker has said what is safe.",
  },
  {
    subject: "Vehicles and conveyors",
    text: "Walk passes under the site's traffic rules, in sight of the drivers. Do not reach into a running conveyor or step into a lane: stop and secure machines first.",
  },
  {
    subject: "Work at height",
    text: "Work overhead only with people and equipment that the site allows, and keep the ground below clear.",
  },
  {
    subject: "Mains",
    text: "Only a qualified electrician opens or changes mains connections, with the circuit dead and secured.",
  },
];

/** The cautions as a page holds them. */
export interface Cautions {
  cautions: Caution[];
  /** What they give way to. */
  cautionsDefer: string;
}

export const cautionsView: Cautions = {
  cautions,
  cautionsDefer:
    "These are reminders, not safety instructions: local law, the rules of the site and the judgement of a competent person come first.",
};

/** The same in few words, for the sheet that is signed. */
export const briefCautions =
  "Do not stand close to an antenna that is on; switch the reader off before work within its reach. People with an active implant keep away from antennas until their physician or its maker has said what is safe. Walk under the site's traffic rules; stop and secure machines first. Work overhead only with people and equipment that the site allows. Only a qualified electrician opens mains connections. Common practice, no source, and in full on the overview: local law, the rules of the site and the judgement of a competent person come first.";
