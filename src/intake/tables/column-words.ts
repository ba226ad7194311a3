import { Registry } from "../../model/registry.ts";

/** A column that the tool itself reads, with the words that people head it with. */
interface ColumnCard {
  /** Its own name. */
  readonly id: string;
  /** Other names, without case, blanks and marks; of two in one header the one that stands first here is taken. */
  readonly words: readonly string[];
}

/**
 * Every column that pass logs, manifests and power logs may have. The words of the open reader protocol are EPCglobal LLRP 1.1's tag report
 * data (EPC-96, AntennaID, PeakRSSI, TagSeenCount); the others are plain English: common practice, no source.
 */
const columns = new Registry<ColumnCard>([
  column("round", "roundid roundno roundnumber campaign"),
  column("pass", "passid passno passnumber passnr run runid runno runnumber"),
  column("read_point", "readpointid readpointname portal gate"),
  column("started_at", "startedat start started starttime timestarted startdatetime timestart begin began"),
  column("ended_at", "endedat end ended endtime timeended enddatetime timeend finish finished stop stopped"),
  column("void_reason", "void voided reasonvoid reasonforvoid voidbecause"),
  column("walked_by", "walker operator tester engineer"),
  column("note", "notes remark remarks comment comments"),
  column("tag", "epc epccode epc96 epchex tagepc tagcode tagid tagnumber tagno uii uid transponder code"),
  column("presented", "waspresented present"),
  column("read", "wasread isread detected seen"),
  column("rssi_dbm", "rssi peakrssi maxrssi signalstrength"),
  column("antenna", "antennaid ant antid antennaport antennanumber antennano antport"),
  column("reads", "readcount seencount tagseencount timesread timesseen"),
  column("manifest", "manifestname loadlist packinglist"),
  column("missed_tags", "missedtags missed tagsmissed missingtags missing missedepcs notread unread"),
  column("stray_tags", "straytags strays stray strayepcs"),
  column("tags_presented", "presentedtags numberpresented"),
  column("tags_read", "readtags numberread"),
  column("power_dbm", "transmitpower txpower power powerlevel outputpower rfpower"),
]);

function column(id: string, words: string): ColumnCard {
  return { id, words: words.split(" ") };
}

/** A name without what people write in their own way: case, blanks, hyphens, brackets, slashes. `Speed (m/s)` is `speedms`. */
export function bareName(name: string): string {
  return name
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "");
}

/** How well a word stands for a column: 0 for the best, null for not at all. */
export function rankOfWord(word: string, id: string): number | null {
  const rank = columns.find(id)?.words.indexOf(word) ?? -1;
  return rank < 0 ? null : rank;
}
