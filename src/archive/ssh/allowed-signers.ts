/** A line of an allowed signers file, as ssh-keygen(1) describes it under "ALLOWED SIGNERS". */
export interface AllowedSigner {
  /** Patterns of names, separated by commas: `*` is any text, `?` any character, `!` in front excludes. */
  principals: string;
  key: Buffer;
  /** Patterns of namespaces; null where the key is for all. */
  namespaces: string | null;
  validAfter: Date | null;
  validBefore: Date | null;
}

/** A line that cannot be read: nothing is checked with half a list. */
export class SignersRefused extends Error {}

/**
 * Reads an allowed signers file. Certificate authorities are passed over, since certificates are not checked.
 *
 * @param named what the file is called, for the message
 * @throws SignersRefused at the first line that cannot be read
 */
export function readAllowedSigners(text: string, named: string): AllowedSigner[] {
  const signers: AllowedSigner[] = [];
  for (const [i, line] of text.split(/\r\n|\n/).entries()) {
    if (/^\s*(#|$)/.test(line)) continue;
    const refuse = (what: string): never => {
      throw new SignersRefused(
        `"${named}", line ${i + 1}: ${what}. A line is a name, options if any, the kind of key and the key: ada@example.org ssh-ed25519 AAAA...`,
      );
    };
    const signer = readLine(line, refuse);
    if (signer !== null) signers.push(signer);
  }
  return signers;
}

const keyKind = /^(ssh-|ecdsa-|sk-)/;

function readLine(line: string, refuse: (what: string) => never): AllowedSigner | null {
  const [principals, ...words] = wordsOf(line.trim());
  const options = keyKind.test(words[0] ?? "") ? "" : (words.shift() ?? "");
  const [kind, base64] = words;
  if (kind === undefined || base64 === undefined || !keyKind.test(kind)) return refuse("there is no key");
  const key = Buffer.from(base64, "base64");
  if (key.toString("base64").replace(/=+$/, "") !== base64.replace(/=+$/, "") || key.length < 8)
    return refuse("the key is not in base64");
  const signer: AllowedSigner = {
    principals: unquoted(principals!),
    key,
    namespaces: null,
    validAfter: null,
    validBefore: null,
  };
  for (const option of options.match(/(?:[^,"]|"[^"]*")+/g) ?? []) {
    const [name, value] = [
      option.split("=")[0]!.toLowerCase(),
      unquoted(option.slice(option.indexOf("=") + 1)),
    ];
    // A certificate authority signs certificates, which are not checked here.
    if (name === "cert-authority") return null;
    if (!/="[^"]*"$/.test(option)) refuse(`the option ${name} needs a value in quotes`);
    if (name === "namespaces") signer.namespaces = value;
    else if (name === "valid-after") signer.validAfter = instant(value, refuse);
    else if (name === "valid-before") signer.validBefore = instant(value, refuse);
    else refuse(`the option ${name} is not known`);
  }
  return signer;
}

/** Words separated by blanks, but for those in quotes. */
function wordsOf(line: string): string[] {
  return line.match(/(?:[^\s"]|"[^"]*")+/g) ?? [];
}

function unquoted(text: string): string {
  return text.replace(/^"(.*)"$/, "$1");
}

/** `YYYYMMDD`, `YYYYMMDDHHMM` or `YYYYMMDDHHMMSS`, by the clock of this machine unless a Z follows. */
function instant(text: string, refuse: (what: string) => never): Date {
  const match = /^(\d{4})(\d\d)(\d\d)(?:(\d\d)(\d\d)(\d\d)?)?(Z?)$/.exec(text);
  if (match === null) return refuse(`the time ${text} is not written YYYYMMDD or YYYYMMDDHHMM`);
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map((part) => Number(part ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return match[7] === "Z"
    ? new Date(Date.UTC(year, month - 1, day, hour, minute, second))
    : new Date(year, month - 1, day, hour, minute, second);
}

/** Whether a list of patterns takes a text: one pattern must match, and none with `!` in front. */
function takes(patterns: string, text: string): boolean {
  const matching = patterns.split(",").filter((pattern) => patternForm(pattern.replace(/^!/, "")).test(text));
  return matching.length > 0 && matching.every((pattern) => !pattern.startsWith("!"));
}

function patternForm(pattern: string): RegExp {
  const form = pattern
    .replace(/[.+^${}()|[\]\\]/g, "\\$&")
    .replaceAll("*", ".*")
    .replaceAll("?", ".");
  return new RegExp(`^${form}$`, "su");
}

/**
 * Why a list does not allow a signature of `name` with `key`, as a clause; null where it does.
 *
 * @param now for keys that are valid for a time only, as ssh-keygen takes it
 */
export function whyNotAllowed(
  signers: AllowedSigner[],
  { name, key, namespace, now }: { name: string; key: Buffer; namespace: string; now: Date },
): string | null {
  const ofKey = signers.filter((signer) => signer.key.equals(key));
  if (ofKey.length === 0) return "its key is not in the list";
  const ofName = ofKey.filter(({ principals }) => takes(principals, name));
  if (ofName.length === 0)
    return `the list has its key for ${ofKey.map(({ principals }) => principals).join(", ")}`;
  const here = ofName.filter(({ namespaces }) => namespaces === null || takes(namespaces, namespace));
  if (here.length === 0) return `the list has its key for other uses than ${namespace}`;
  const isValid = ({ validAfter, validBefore }: AllowedSigner) =>
    (validAfter === null || now >= validAfter) && (validBefore === null || now <= validBefore);
  return here.some(isValid) ? null : "the list has its key for another time than now";
}
