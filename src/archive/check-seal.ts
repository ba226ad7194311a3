import type { BagCheck } from "./bag/check-bag.ts";
import { type Fault, fault } from "./bag/fault.ts";
import { type BagFiles, bytesOf } from "./bag/files.ts";
import { manifestText } from "./bag/manifest.ts";
import { payloadStart, strayFileNote } from "./bag/paths.ts";
import { type TagEntry, valuesOf } from "./bag/tag-files.ts";
import {
  agent,
  algorithm,
  manifestFile,
  namespace,
  signatureEnd,
  signaturesFolder,
  tagFiles,
  tagManifestFile,
  timestampsFolder,
} from "./seal-layout.ts";
import { type AllowedSigner, whyNotAllowed } from "./ssh/allowed-signers.ts";
import { checkSshSignature } from "./ssh/signature.ts";
import { readTimeStamp } from "./time-stamp.ts";

/** A signature that holds. */
export interface Signature {
  /** The name of its file, without the end. The signature itself names only a key. */
  name: string;
  /** The kind of key, such as `ssh-ed25519`. */
  kind: string;
  fingerprint: string;
  /** Whether the list of allowed signers has the key under the name; null where there is no list. */
  isAllowed: boolean | null;
}

/** Whether a bag says that it is a seal. */
export function isSeal(info: TagEntry[]): boolean {
  return valuesOf(info, "Bag-Software-Agent").some((value) => value.startsWith(`${agent} `));
}

/**
 * What a seal keeps beyond what every bag does: its manifests are, byte for byte, those that are made again of its files, and
 * nothing is in it that they do not list but signatures and timestamps.
 */
export async function sealFaults(files: BagFiles, bag: BagCheck): Promise<Fault[]> {
  const listed = new Set([...tagFiles, tagManifestFile]);
  const faults: Fault[] = [];
  const isOpen = (path: string) => path.startsWith(signaturesFolder) || path.startsWith(timestampsFolder);
  for (const path of files.sizes.keys())
    if (!path.startsWith(payloadStart) && !listed.has(path) && !isOpen(path))
      faults.push(fault("added", path, `${path} is not part of the seal.${strayFileNote(path)}`));
  const told = new Set(bag.faults.map(({ file }) => file));
  for (const path of listed)
    if (!files.sizes.has(path) && !told.has(path)) faults.push(fault("missing", path, `${path} is missing.`));
  // What was changed, added or is missing is named by then; else only the form of a manifest can differ.
  if (faults.length + bag.faults.length > 0) return faults;
  const payload = [...files.sizes.keys()].filter((path) => path.startsWith(payloadStart));
  return [
    ...(await manifestFaults({ files, bag }, manifestFile, payload)),
    ...(await manifestFaults({ files, bag }, tagManifestFile, tagFiles)),
  ];
}

async function manifestFaults(
  { files, bag }: { files: BagFiles; bag: BagCheck },
  manifest: string,
  paths: string[],
): Promise<Fault[]> {
  const checksums = new Map<string, string>();
  for (const path of paths) checksums.set(path, (await bag.checksum(path, algorithm)) ?? "");
  const made = Buffer.from(manifestText(checksums));
  if (made.equals(await bytesOf(files, manifest))) return [];
  return [
    fault("changed", manifest, `${manifest} was changed: made again of the files, it has other bytes.`),
  ];
}

/** Whose keys are known, and at what time they are asked for. */
export interface KnownSigners {
  signers: AllowedSigner[];
  now: Date;
}

/** The signatures of a seal that hold, and the faults of those that do not. With a list of signers, a seal must be signed. */
export async function checkSignatures(
  files: BagFiles,
  known: KnownSigners | null,
): Promise<{ signatures: Signature[]; faults: Fault[] }> {
  const signatures: Signature[] = [];
  const faults: Fault[] = [];
  const signed = await bytesOf(files, tagManifestFile);
  for (const path of files.sizes.keys()) {
    if (!path.startsWith(signaturesFolder)) continue;
    const name = path.slice(signaturesFolder.length, -signatureEnd.length);
    if (!path.endsWith(signatureEnd) || name === "" || name.includes("/")) {
      faults.push(fault("added", path, `${path} is no signature: only NAME${signatureEnd} belongs there.`));
      continue;
    }
    const checked = checkSshSignature((await bytesOf(files, path)).toString("latin1"), signed, namespace);
    if (typeof checked === "string") {
      faults.push(fault("signature", path, `${path} does not hold: ${checked}.`));
      continue;
    }
    const { key, kind, fingerprint } = checked;
    const why =
      known === null ? null : whyNotAllowed(known.signers, { name, key, namespace, now: known.now });
    if (why !== null)
      faults.push(
        fault("signature", path, `${name} signed with a key that is not allowed (${fingerprint}): ${why}.`),
      );
    signatures.push({ name, kind, fingerprint, isAllowed: known === null ? null : why === null });
  }
  if (known !== null && signatures.length === 0 && faults.length === 0)
    faults.push(fault("signature", null, "Nobody signed the seal, and a list of allowed signers was given."));
  return { signatures, faults };
}

/** A file in the folder of time stamps. */
export interface StampFile {
  file: string;
  /** When a service says that it had the seal, ISO 8601 in UTC; null where nothing can be told of the file. */
  at: string | null;
}

/** What the tokens of time-stamping services say; a token of other bytes is a fault. Whose they are is not checked. */
export async function checkTimestamps(
  files: BagFiles,
): Promise<{ timestamps: StampFile[]; faults: Fault[] }> {
  const timestamps: StampFile[] = [];
  const faults: Fault[] = [];
  const stamped = await bytesOf(files, tagManifestFile);
  for (const path of files.sizes.keys()) {
    if (!path.startsWith(timestampsFolder)) continue;
    const token = readTimeStamp(await bytesOf(files, path), stamped);
    if (token?.isOver === false)
      faults.push(
        fault(
          "timestamp",
          path,
          `${path} is a token of other bytes than ${tagManifestFile}: it says nothing of this seal.`,
        ),
      );
    else timestamps.push({ file: path, at: token?.isOver === true ? token.at : null });
  }
  return { timestamps, faults };
}
