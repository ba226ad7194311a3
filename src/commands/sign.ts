import { spawn } from "node:child_process";
import { closeSync, existsSync, mkdirSync, openSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { OutputRefused, realPath, refusalOf } from "../site/output/output-place.ts";
import { type Command, type Exit, ExitStatus, type Words, WrongUsage } from "./command.ts";
import { progressOn, type Terminal } from "./lines/terminal.ts";
import { plain } from "./lines/text.ts";

/** Adds a signature to a seal. The seal stays as it is: signatures stand on none of its lists. */
export const sign: Command = {
  name: "sign",
  summary: "adds a signature to a seal, with a key for SSH",
  options: ["key", "as"],
  operand: {
    placeholder: "BAG",
    advice: "sign needs the folder of a seal: proofwalk sign archive/north-hall-N-1-A --key FILE --as NAME",
  },
  examples: [
    {
      words: "sign archive/north-hall-N-1-A --key ~/.ssh/id_ed25519 --as ada@example.org",
      purpose: "sign with your key; others may sign later",
    },
  ],
  exits: { 0: "signed", 4: "the seal does not hold, and was not signed" },
  run: signSeal,
};

async function signSeal({ operand, key, as: name }: Words, terminal: Terminal): Promise<Exit> {
  if (key === "") throw new WrongUsage("sign needs the key to sign with: --key ~/.ssh/id_ed25519");
  refuseName(name);
  const refused = (says: string, exit: Exit = ExitStatus.refused) => {
    terminal.err(`${plain(says)}\nNothing was signed.\n`);
    return exit;
  };
  const { checkedBag, openBag } = await import("../archive/opened-bag.ts");
  const place = await openBag(operand);
  if (place.kind !== "bag" || place.isZip)
    return refused(`"${operand}" is not the folder of a seal. Unpack a zip before it is signed.`);
  const progress = progressOn(terminal);
  const bag = await checkedBag(place.files, progress.step);
  progress.done();
  if (!bag.isSeal && bag.faults.length === 0)
    return refused(`"${operand}" is a bag, but not one that seal wrote.`);
  if (bag.faults.length > 0)
    return refused(
      `"${operand}" does not hold: ${bag.faults[0]!.says} proofwalk verify lists everything.`,
      ExitStatus.broken,
    );
  const { namespace, signatureEnd, signaturesFolder, tagManifestFile } = await import(
    "../archive/seal-layout.ts"
  );
  const file = join(operand, signaturesFolder, `${name}${signatureEnd}`);
  if (existsSync(file)) return refused(`"${file}" stands already: ${name} has signed.`);
  try {
    const text = await madeBySshKeygen({ key, namespace, file: join(operand, tagManifestFile) }, terminal);
    const { checkSshSignature } = await import("../archive/ssh/signature.ts");
    const { bytesOf } = await import("../archive/bag/files.ts");
    const checked = checkSshSignature(text, await bytesOf(place.files, tagManifestFile), namespace);
    if (typeof checked === "string")
      return refused(`The signature that ssh-keygen made cannot be used: ${checked}.`);
    putInPlace(operand, file, text);
    terminal.out(`${file}: signed with ${checked.kind} ${checked.fingerprint}\n`);
    return ExitStatus.fine;
  } catch (refusal) {
    const fault = refusalOf(refusal, file);
    if (!(fault instanceof OutputRefused)) throw fault;
    return refused(fault.message);
  }
}

/** A name that a file may have on every machine, and that a list of allowed signers may have as it is. */
function refuseName(name: string): void {
  if (name === "") throw new WrongUsage("sign needs the name of who signs: --as ada@example.org");
  if (/^[\p{L}\p{N}][\p{L}\p{N} ._@+-]*$/u.test(name) && !/[. ]$/.test(name) && name.length <= 100) return;
  throw new WrongUsage(
    `--as takes letters, digits, blanks and . _ @ + -, at most 100 of them, since it names a file; not "${name}".`,
  );
}

/** The text of a signature. ssh-keygen asks at the terminal for what it needs, such as the words that guard the key. */
async function madeBySshKeygen(
  { key, namespace, file }: { key: string; namespace: string; file: string },
  terminal: Terminal,
): Promise<string> {
  const input = openSync(file, "r");
  try {
    const child = spawn("ssh-keygen", ["-q", "-Y", "sign", "-n", namespace, "-f", key], {
      stdio: [input, "pipe", "pipe"],
    });
    let text = "";
    child.stdout?.on("data", (piece: Buffer) => {
      text += piece.toString("latin1");
    });
    child.stderr?.on("data", (piece: Buffer) => terminal.err(piece.toString()));
    const status = await new Promise<number | null>((ended, failed) => {
      child.on("error", failed);
      child.on("close", ended);
    });
    if (status === 0) return text;
    throw new OutputRefused(`ssh-keygen did not sign with "${key}"; what it says stands above.`);
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code !== "ENOENT") throw fault;
    throw new OutputRefused(
      "The program ssh-keygen is missing, which makes the signature. It comes with OpenSSH: install it, or sign on another machine.",
    );
  } finally {
    closeSync(input);
  }
}

/** By a rename from beside the seal, so that no half signature ever stands in it. */
function putInPlace(bag: string, file: string, text: string): void {
  const folder = realPath(bag);
  const fresh = join(dirname(folder), `.signature.proofwalk-${process.pid}`);
  try {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(fresh, text, { flag: "wx" });
    renameSync(fresh, file);
  } finally {
    rmSync(fresh, { force: true });
  }
}
