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
    text: "A reader that is on radiates from its antennas, and nobody lingers close in front of one. Before work within reach of an antenna the reader is switched off, or a competent person confirms that the exposure limits in force are kept.",
  },
  {
    subject: "Implants",
    text: "People with a pacemaker, a defibrillator or another active implant keep away from antennas until their physician or the implant's maker has said what is safe.",
  },
  {
    subject: "Vehicles and conveyors",
    text: "Passes are walked under the site's traffic rules, in sight of the drivers. Nobody reaches into a running conveyor or steps into a lane: machines are stopped and secured first.",
  },
  {
    subject: "Work at height",
    text: "What hangs overhead is reached only by people and with means that the site allows, with the ground below kept clear.",
  },
  {
    subject: "Mains",
    text: "Mains connections are opened and changed by a qualified electrician only, with the circuit dead and secured.",
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
