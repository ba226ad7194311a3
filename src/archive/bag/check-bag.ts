import { byCodePoint } from "../../model/order.ts";
import { type Fault, fault } from "./fault.ts";
import { type BagFiles, bytesOf, hashesOf } from "./files.ts";
import {
  type ManifestEntry,
  type ManifestName,
  manifestName,
  type ReadManifest,
  readManifest,
} from "./manifest.ts";
import { decodedPath, isStrayFile, leavesBag, payloadStart, sharedPath, strayFileNote } from "./paths.ts";
import {
  linesOf,
  readDeclaration,
  readTagEntries,
  type TagEntry,
  tagFileText,
  valuesOf,
} from "./tag-files.ts";

export interface BagCheck {
  faults: Fault[];
  /** Remarks on a bag that holds. */
  warnings: Fault[];
  /** The entries of bag-info.txt; none where it is not there or cannot be read. */
  info: TagEntry[];
  /** The checksum of a file; one that was made for the check is not made again. */
  checksum(path: string, algorithm: string): Promise<string | null>;
}

/** Whether a folder may be a bag at all: it has the declaration of one, or a manifest. */
export function isBag(files: BagFiles): boolean {
  return [...files.sizes.keys()].some((path) => path === "bagit.txt" || manifestName(path) !== null);
}

/**
 * Checks a bag by RFC 8493 (version 1.0) or by the drafts before it (0.93 to 0.97): its declaration, that every listed file
 * is there and unchanged, that every payload file is listed, and that no path leads out of it.
 */
export async function checkBag(
  files: BagFiles,
  onFile: (path: string) => void = () => {},
): Promise<BagCheck> {
  return new Check(files, onFile).run();
}

/** A manifest with its entries' files as they are found on the disk. */
interface Listing {
  name: ManifestName;
  /** By path on the disk. */
  checksums: Map<string, string>;
}

class Check {
  private readonly files: BagFiles;
  private readonly onFile: (path: string) => void;
  private readonly faults: Fault[] = [];
  private readonly warnings: Fault[] = [];
  private readonly checksums = new Map<string, Map<string, string>>();
  private info: TagEntry[] = [];
  private isDraft = false;

  constructor(files: BagFiles, onFile: (path: string) => void) {
    this.files = files;
    this.onFile = onFile;
  }

  async run(): Promise<BagCheck> {
    for (const path of this.files.odd)
      this.add(
        "format",
        path,
        `${path} is a link, or has a name that cannot be read: a bag holds files and folders.`,
      );
    const encoding = await this.declaredEncoding();
    const manifests = [...this.files.sizes.keys()].flatMap((path) => manifestName(path) ?? []);
    const listings: Listing[] = [];
    for (const name of manifests) listings.push(...(await this.listing(name, encoding)));
    if (!manifests.some(({ lists }) => lists === "payload"))
      this.add("missing", null, "The bag has no payload manifest, such as manifest-sha512.txt.");
    await this.readInfo(encoding);
    const payload = listings.filter(({ name }) => name.lists === "payload");
    await this.checkFetch(encoding, payload);
    this.checkCompleteness(payload);
    await this.checkChecksums(listings);
    this.checkOxum();
    const { faults, warnings, info } = this;
    return {
      faults,
      warnings,
      info,
      checksum: (path, name) => this.checksum(path, [name]).then((all) => all?.get(name) ?? null),
    };
  }

  private add(kind: Fault["kind"], file: string | null, says: string): void {
    this.faults.push(fault(kind, file, says));
  }

  private warn(file: string | null, says: string): void {
    this.warnings.push(fault("format", file, says));
  }

  /** UTF-8 where the declaration cannot be read, so that the rest is checked all the same. */
  private async declaredEncoding(): Promise<string> {
    const bytes = await this.bytes("bagit.txt");
    if (bytes === null) return "UTF-8";
    const declaration = readDeclaration(bytes);
    if (typeof declaration === "string") {
      this.add("format", "bagit.txt", declaration);
      return "UTF-8";
    }
    this.isDraft = declaration.version !== "1.0";
    return declaration.encoding;
  }

  /** Null, with the fault said, where the file is not there or cannot be read. */
  private async bytes(path: string): Promise<Buffer | null> {
    if (!this.files.sizes.has(path)) {
      this.add("missing", path, `${path} is missing.`);
      return null;
    }
    try {
      return await bytesOf(this.files, path);
    } catch (error) {
      this.unreadable(path, error);
      return null;
    }
  }

  private unreadable(path: string, error: unknown): void {
    const reason = (error as NodeJS.ErrnoException).code;
    if (reason === undefined) throw error;
    this.add("unreadable", path, `${path} cannot be read (${reason}).`);
  }

  private async tagText(path: string, encoding: string): Promise<string | null> {
    const bytes = await this.bytes(path);
    if (bytes === null) return null;
    const text = tagFileText(bytes, encoding);
    if (text === null)
      this.add("format", path, `${path} is not in the encoding ${encoding}, which bagit.txt states.`);
    return text;
  }

  private async listing(name: ManifestName, encoding: string): Promise<Listing[]> {
    const text = await this.tagText(name.file, encoding);
    if (text === null) return [];
    if (name.algorithm === null) {
      this.add("format", name.file, `${name.file} is made with an algorithm that is not known here.`);
      return [];
    }
    const read = readManifest(text);
    this.sayForm(name, read);
    const checksums = new Map<string, string>();
    for (const entry of read.entries) this.place(entry, name, checksums);
    return [{ name, checksums }];
  }

  private sayForm({ file }: ManifestName, { unread, isOfTools }: ReadManifest): void {
    if (unread.length > 0)
      this.add(
        "format",
        file,
        `${file}, line ${unread[0]}, is not a checksum and a path${more(unread.length)}.`,
      );
    if (isOfTools) this.warn(file, `${file} has "*" or "./" before paths, as checksum tools write them.`);
  }

  /** Puts an entry under the path that its file has on the disk. */
  private place(entry: ManifestEntry, { file, lists }: ManifestName, checksums: Map<string, string>): void {
    const { written, checksum } = entry;
    const path = this.pathOnDisk(entry);
    if (leavesBag(path)) {
      this.add("format", file, `${file} lists ${written}, which leads out of the bag.`);
      return;
    }
    if (lists === "payload" && !path.startsWith(payloadStart)) {
      this.add("format", file, `${file} lists ${written}, which is not in the folder data.`);
      return;
    }
    const other = checksums.get(path);
    if (other !== undefined) {
      const says = `${file} lists ${written} more than once`;
      if (!this.isDraft || other !== checksum) this.add("format", file, `${says}.`);
      else this.warn(file, `${says}, with the same checksum.`);
    }
    checksums.set(path, checksum);
  }

  /**
   * Drafts before 1.0 did not agree on what is encoded, so the name as it is written is tried first. Disks may put accented
   * letters into another of their forms.
   */
  private pathOnDisk({ written, path }: { written: string; path: string }): string {
    const { sizes } = this.files;
    if (this.isDraft && sizes.has(written)) return written;
    if (sizes.has(path)) return path;
    const form = path.normalize("NFC");
    const other = /[\u0080-\uffff]/.test(path)
      ? [...sizes.keys()].find((each) => each.normalize("NFC") === form)
      : undefined;
    if (other === undefined) return path;
    this.warn(path, `${path} is written with other forms of its accented letters on this disk.`);
    return other;
  }

  private async readInfo(encoding: string): Promise<void> {
    if (!this.files.sizes.has("bag-info.txt")) return;
    const text = await this.tagText("bag-info.txt", encoding);
    const entries = text === null ? [] : readTagEntries(text);
    if (entries === null) this.add("format", "bag-info.txt", "bag-info.txt has a line without a label.");
    this.info = entries ?? [];
  }

  /** What a bag has fetched from elsewhere is listed like everything else, and is there once the bag is complete. */
  private async checkFetch(encoding: string, payload: Listing[]): Promise<void> {
    if (!this.files.sizes.has("fetch.txt")) return;
    const text = (await this.tagText("fetch.txt", encoding)) ?? "";
    for (const line of linesOf(text).filter((each) => each !== "")) {
      const match = /^\S+[ \t]+(?:\d+|-)[ \t]+(?:\.\/)?(.+)$/.exec(line);
      const path =
        match === null ? null : this.pathOnDisk({ written: match[1]!, path: decodedPath(match[1]!) });
      if (path === null || leavesBag(path) || !payload.some(({ checksums }) => checksums.has(path)))
        this.add(
          "format",
          "fetch.txt",
          `fetch.txt has a line for no file of the payload: ${line.slice(0, 100)}`,
        );
    }
  }

  private checkCompleteness(payload: Listing[]): void {
    if (payload.length === 0) return;
    this.remarkOnNames(new Set(payload.flatMap(({ checksums }) => [...checksums.keys()])));
    for (const path of this.files.sizes.keys()) {
      if (!path.startsWith(payloadStart)) continue;
      const without = payload.filter(({ checksums }) => !checksums.has(path));
      if (this.isDraft ? without.length === payload.length : without.length > 0)
        this.add("added", path, `${path} is not listed in ${without[0]!.name.file}.${strayFileNote(path)}`);
    }
  }

  /** What is listed and lies well here, and may not on another machine. */
  private remarkOnNames(paths: ReadonlySet<string>): void {
    for (const path of paths)
      if (isStrayFile(path)) this.warn(path, `${path} is a file that systems put beside those they show.`);
    const shared = sharedPath(paths);
    if (shared !== null)
      this.warn(
        shared[1],
        `${shared[0]} and ${shared[1]} are one file on a disk that does not tell capitals, or forms of accented letters, apart.`,
      );
  }

  private async checkChecksums(listings: Listing[]): Promise<void> {
    const byPath = new Map<string, { name: ManifestName; checksum: string }[]>();
    for (const { name, checksums } of listings)
      for (const [path, checksum] of checksums) {
        const wanted = byPath.get(path) ?? [];
        wanted.push({ name, checksum });
        byPath.set(path, wanted);
      }
    for (const [path, wanted] of [...byPath].sort(([a], [b]) => byCodePoint(a, b))) {
      if (!this.files.sizes.has(path)) {
        const isTold = this.faults.some(({ kind, file }) => kind === "missing" && file === path);
        if (!isTold) this.add("missing", path, `${path} is missing; ${wanted[0]!.name.file} lists it.`);
        continue;
      }
      const found = await this.checksum(path, new Set(wanted.map(({ name }) => name.algorithm!)));
      const differing = wanted.find(
        ({ name, checksum }) => found !== null && found.get(name.algorithm!) !== checksum,
      );
      if (differing !== undefined)
        this.add(
          "changed",
          path,
          `${path} was changed: its checksum is not the one in ${differing.name.file}.`,
        );
    }
  }

  /** Null, with the fault said, where the file cannot be read. */
  private async checksum(path: string, algorithms: Iterable<string>): Promise<Map<string, string> | null> {
    const known = this.checksums.get(path) ?? new Map<string, string>();
    const wanted = [...algorithms].filter((name) => !known.has(name));
    if (wanted.length === 0) return known;
    this.onFile(path);
    try {
      const made = new Map([...known, ...(await hashesOf(this.files, path, wanted))]);
      this.checksums.set(path, made);
      return made;
    } catch (error) {
      this.unreadable(path, error);
      return null;
    }
  }

  /** Bytes and number of the payload's files; a label that is repeated says nothing. */
  private checkOxum(): void {
    const [oxum, ...others] = valuesOf(this.info, "Payload-Oxum");
    if (oxum === undefined || others.length > 0) return;
    const found = payloadOxum(this.files);
    if (oxum !== found)
      this.add(
        "format",
        "bag-info.txt",
        `bag-info.txt states a payload of ${oxum} (bytes.files); it is ${found}.`,
      );
  }
}

/** How many bytes the files in data/ have, and how many they are. */
export function payloadOxum({ sizes }: BagFiles): string {
  const payload = [...sizes].filter(([path]) => path.startsWith(payloadStart));
  return `${payload.reduce((sum, [, bytes]) => sum + bytes, 0)}.${payload.length}`;
}

function more(count: number): string {
  return count === 1 ? "" : `, and ${count - 1} more are not`;
}
