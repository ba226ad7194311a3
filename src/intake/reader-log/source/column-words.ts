/** What a column is taken for. */
export type ColumnRole =
  | "time"
  | "last time"
  | "uptime"
  | "date alone"
  | "time of day alone"
  | "code"
  | "chip number"
  | "PC word"
  | "CRC"
  | "antenna"
  | "RSSI"
  | "count"
  | "reader"
  | "channel"
  | "frequency"
  | "phase"
  | "Doppler shift"
  | "power"
  | "reader's own settings"
  | "row number"
  | "kind of event"
  | "unknown";

/**
 * Column names without their spaces, marks and case, by what they stand for; within a role the better comes first, and of two roles with
 * the same name the first.
 *
 * From standards: EPCglobal LLRP 1.1 tag report data (EPC, AntennaID, PeakRSSI, ChannelIndex, First- and LastSeenTimestampUTC and
 * -Uptime, TagSeenCount, ROSpecID and its like); EPCIS 2.0 (eventTime, recordTime, epcList, readPoint); EPCglobal ALE 1.1 (first- and
 * lastSightingTime, from memory); OPC 10000 AutoID (ScanData, Strength, Timestamp, CurrentPowerLevel); ISO/IEC 18000-63 (UII, PC, CRC,
 * TID). The others are plain English: common practice, no source.
 */
const names: [ColumnRole, string][] = [
  [
    "time",
    `firstseentimestamputc firstseentimestamp firstseenutc firstseentime firstseen firstsightingtime firstsighting
    eventtime readtime timeread readat seenat heardat timeseen seentime readtimestamp tagtimestamp tagtime
    timestamp timestamputc datetime utctime utc time when at ts t epoch unixtime epochtime unixtimestamp
    localtime timelocal readertime hosttime logtime recordtime receivedat receivetime discoverytime`,
  ],
  [
    "last time",
    `lastseentimestamputc lastseentimestamp lastseenutc lastseentime lastseen lastsightingtime lastsighting
    endtime renewaltime`,
  ],
  [
    "uptime",
    `firstseentimestampuptime lastseentimestampuptime firstseenuptime lastseenuptime uptime
    elapsed elapsedtime relativetime`,
  ],
  ["date alone", "date day readdate eventdate"],
  ["time of day alone", "timeofday clock clocktime"],
  [
    "code",
    `epc uii epchex epc96 epcdata epccode epcid epcvalue epclist epcs tagepc tagcode tagid tag tagdata
    code scandata rawepc epcraw idhex hex transponder transponderid identifier itemcode tagidentifier data id`,
  ],
  ["chip number", "tid tidhex tagtid tiddata chipid serializedtid"],
  ["PC word", "pc pcword pcbits c1g2pc protocolcontrol xpc xpcw1 xpcw2 c1g2xpcw1 c1g2xpcw2"],
  ["CRC", "crc crc16 c1g2crc"],
  [
    "antenna",
    `antennaid antenna ant antennaport antennanumber antennano antennaindex antennaname antno antid
    antport antnr antennanr aerial port portnumber antennas antennaids antennaports`,
  ],
  [
    "RSSI",
    `peakrssi rssi maxrssi rssimax rssipeak peakrssivalue rssivalue signalstrength receivedsignalstrength
    strength signal signallevel avgrssi meanrssi averagerssi lastrssi rssilast rxlevel receivedpower rxpower`,
  ],
  [
    "count",
    `tagseencount seencount readcount count reads timesseen timesread hits numreads readscount nreads
    tagcount sightings numberofreads repeatcount n`,
  ],
  [
    "reader",
    `reader readername readerid logicalreader logicalreadername interrogator interrogatorid readpoint
    readpointid device devicename deviceid deviceserial readermac readerserialnumber host hostname ip ipaddress readerip readerserial station
    gate portal dock door lane location readerhostname source sensor`,
  ],
  ["channel", "channelindex channel channelnumber channelno ch chan chindex hopindex"],
  ["frequency", "frequency freq carrierfrequency carrier channelfrequency rffrequency"],
  ["phase", "phase phaseangle rfphase rfphaseangle phasedegrees phaseradians"],
  ["Doppler shift", "doppler dopplerfrequency dopplershift rfdopplerfrequency"],
  ["power", "power transmitpower txpower currentpowerlevel powerlevel readpower"],
  [
    "reader's own settings",
    `rospecid specindex inventoryparameterspecid accessspecid session target rfmode modeindex
    inventoriedflag airprotocol protocol qvalue opspecid`,
  ],
  ["row number", "row rownumber rowno no nr index seq sequence sequencenumber lineno line"],
];

/** Ends of names that state a unit or a clock and say nothing about the role. */
const unitWords = new Set(
  `utc local ms us ns s sec secs seconds milliseconds microseconds nanoseconds millis micros nanos iso iso8601 unix epoch
  dbm cdbm db mdbm mhz khz hz deg degrees rad radians hex`.split(/\s+/),
);

/** Single words in a longer name that still tell, the strongest first. */
const tellingWords: [ColumnRole, RegExp][] = [
  ["uptime", /^uptime$/],
  ["RSSI", /^rssi$/],
  ["Doppler shift", /^doppler$/],
  ["phase", /^phase$/],
  ["antenna", /^ant(enna)?$/],
  ["chip number", /^tid$/],
  ["code", /^(epc|uii)$/],
  ["frequency", /^freq(uency)?$/],
  ["channel", /^channel$/],
  ["last time", /^last$/],
  ["time", /^(timestamp|time|datetime)$/],
  ["reader", /^(reader|interrogator)$/],
  ["count", /^(count|reads)$/],
];

const ranks = new Map<string, { role: ColumnRole; rank: number }>();
for (const [role, spellings] of names) {
  for (const [rank, spelling] of spellings.split(/\s+/).entries())
    if (!ranks.has(spelling)) ranks.set(spelling, { role, rank });
}

export interface NamedRole {
  role: ColumnRole;
  by: "name" | "part of its name";
  /** Lower is better, between columns of one role. */
  rank: number;
}

/** What a column's name says it is; null where it says nothing. */
export function roleOfName(name: string): NamedRole | null {
  const words = wordsOf(name);
  for (let end = words.length; end > 0; end -= 1) {
    const known = ranks.get(words.slice(0, end).join(""));
    if (known !== undefined) return { ...known, by: "name" };
    if (!unitWords.has(words[end - 1]!)) break;
  }
  for (const [rank, [role, telling]] of tellingWords.entries()) {
    if (!words.some((word) => telling.test(word))) continue;
    if (role === "last time" && !words.some((word) => /time|seen|sighting/.test(word))) continue;
    return { role, by: "part of its name", rank: 1000 + rank };
  }
  return null;
}

/** Whether a name says that its times are UTC. */
export function namesUtc(name: string): boolean {
  return wordsOf(name).includes("utc");
}

/** The words of a name, separated by case, underscores, blanks or brackets. */
function wordsOf(name: string): string[] {
  return name
    .slice(0, 200)
    .replace(/dBm/g, "Dbm")
    .replace(/([kMG])Hz/g, (unit) => `${unit[0]!.toUpperCase()}hz`)
    .replace(/([a-z\d])([A-Z])/g, "$1 $2")
    .replace(/([A-Z]+)([A-Z][a-z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .filter((word) => word !== "");
}
