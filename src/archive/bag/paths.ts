/** The folder of a bag that holds what the bag is about. */
export const payloadStart = "data/";

/** A path that leads, or on some machine may lead, out of the bag. */
export function leavesBag(path: string): boolean {
  return (
    /^[/\\~]/.test(path) || /^[a-z]:/i.test(path) || /^%\w+%/.test(path) || path.split(/[/\\]/).includes("..")
  );
}

/** A path of a manifest with its line ends and per cent signs decoded; RFC 8493, section 2.1.3, encodes nothing else. */
export function decodedPath(written: string): string {
  return written.replace(/%(0A|0D|25)/gi, (code) => String.fromCharCode(Number.parseInt(code.slice(1), 16)));
}

/** Names that Windows keeps for devices, with or without an extension. */
const devices = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/**
 * Why a file of this name cannot go into a bag that every machine can unpack and every `sha512sum` can check; null where it
 * can. `%` is written otherwise in a manifest than on the disk, and `\` otherwise by `sha512sum`.
 *
 * @param path relative, with `/`
 */
export function whyNotCarried(path: string): string | null {
  for (const name of path.split("/")) {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
    if (/[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufffd]/.test(name)) return "it holds a control character";
    const mark = /[%\\<>:"|?*]/.exec(name);
    if (mark !== null) return `it holds ${mark[0]}`;
    if (/[. ]$|^ /.test(name)) return "it begins or ends with a blank, or ends with a full stop";
    if (devices.test(name)) return "Windows keeps it for a device";
  }
  return null;
}

/** Whether a file is one that a system puts beside those that it shows. */
export function isStrayFile(path: string): boolean {
  return /(^|\/)(\.DS_Store|\._[^/]*|Thumbs\.db|desktop\.ini)$/i.test(path);
}

/** What is said of such a file where it is too much, with a blank in front; empty for any other. */
export function strayFileNote(path: string): string {
  return isStrayFile(path) ? " A system that shows folders puts such a file there: delete it." : "";
}

/** Two of the paths that are one on a disk that takes capitals, or the forms of an accented letter, for the same; null for none. */
export function sharedPath(paths: Iterable<string>): [string, string] | null {
  const seen = new Map<string, string>();
  for (const path of paths) {
    const key = path.normalize("NFC").toLowerCase();
    const other = seen.get(key);
    if (other !== undefined) return [other, path];
    seen.set(key, path);
  }
  return null;
}

/** A text as a part of a file name: letters of ASCII, digits, `.`, `_` and `-`; empty where nothing of it can stand in one. */
export function soundName(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/[^A-Za-z0-9._-]+/g, "-")
    .replace(/^[-.]+|[-.]+$/g, "");
}
