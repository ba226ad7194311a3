export interface Caution {
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
    text: "A reader that is on radiates from every antenna. Nobody lingers close in front of one; before work within reach of an antenna the reader is switched off, or a competent person has confirmed that the exposure limits in force are kept there.",
  },
  {
    subject: "Implants",
    text: "People with a pacemaker, a defibrillator or another active implant keep away from antennas, and take part in passes only once their physician or the maker of the implant has said what is safe.",
  },
  {
    subject: "Vehicles and conveyors",
    text: "Passes are walked under the traffic rules of the site, in sight of the drivers. Nobody reaches into a running conveyor or steps into a lane to save a tag; machines are stopped and secured first.",
  },
  {
    subject: "Work at height",
    text: "Antennas, readers and cables overhead are reached only by people and with means that the site allows, with the ground below kept clear.",
  },
  {
    subject: "Mains",
    text: "Mains connections are opened, changed and tested by a qualified electrician only, with the circuit dead and secured against being switched on.",
  },
];

/** What the cautions give way to. */
export const cautionsDefer =
  "These are reminders, not safety instructions: local law, the rules of the site and the judgement of a competent person come first.";
