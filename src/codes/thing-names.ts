import { canonicalCode } from "./canonical-code.ts";
import { codeUri } from "./code-uri.ts";

/*
 * What a code names, whichever way it is written: the hexadecimal code of a tag, an EPC URI, or a GS1 Digital Link URI.
 *
 * Sources: EPC URIs: GS1 EPC Tag Data Standard, sections on EPC URIs and on their correspondence to GS1 keys; Digital Link URIs:
 * GS1 Digital Link, URI syntax; application identifiers: GS1 General Specifications (all from memory). Checked on the examples of
 * the EPCIS repository that write one event both ways (read).
 */

/** Names of our own stand under a domain that never exists (RFC 2606), so that they can be nobody else's. */
const ownNamespace = "https://proofwalk.invalid/";
const ownTags = `${ownNamespace}tag/`;
const ownReadPoints = `${ownNamespace}read-point/`;

/**
 * One name for each thing: the GS1 key as element string where the code carries one, since a Digital Link does not tell how
 * long the company prefix is; else the EPC URI; else the text itself.
 *
 * @param written a tag's code in hexadecimal, an EPC URI (pure identity, tag or raw), a Digital Link URI, or any other name
 *
 * Edges: filter and length of the tag's code are no part of the name, so two tags may carry the same one. What looks like one
 * of these and breaks its rules stays as it is written.
 *
 * Worked example: `urn:epc:id:sgtin:7061414.012345.2017` and `https://id.example.com/01/07061414123455/21/2017` are
 * `(01)07061414123455(21)2017`.
 */
export function thingName(written: string): string {
  const text = written.trim();
  if (text.startsWith(ownTags)) return thingName(decoded(text.slice(ownTags.length)));
  const epc = /^urn:epc:(id|tag|raw):(.+)$/i.exec(text);
  if (epc !== null) return epcName(epc[1]!.toLowerCase(), epc[2]!) ?? text;
  if (/^https?:\/\//i.test(text)) return digitalLinkName(text) ?? text;
  const uri = codeUri(text);
  if (uri !== null) return thingName(uri);
  const code = canonicalCode(text);
  return code.kind === "refused" ? text : code.code;
}

/**
 * The URI by which a document names a tag: its pure identity, or its raw URI; of a label, a name of our own.
 *
 * Worked example: the label `crate 7` is https://proofwalk.invalid/tag/crate%207.
 */
export function documentUri(code: string): string {
  if (/^(?:urn:|https?:\/\/)\S+$/i.test(code)) return code;
  return codeUri(code) ?? `${ownTags}${encodeURIComponent(code)}`;
}

/** The URI of a read point for which nobody stated one. */
export function readPointUri(facility: string, readPoint: string): string {
  return `${ownReadPoints}${encodeURIComponent(facility)}/${encodeURIComponent(readPoint)}`;
}

/** The read point that such a URI names; null of any other. */
export function readPointOfUri(uri: string): { facility: string; readPoint: string } | null {
  if (!uri.startsWith(ownReadPoints)) return null;
  const [facility = "", readPoint = "", ...rest] = uri.slice(ownReadPoints.length).split("/").map(decoded);
  return facility === "" || readPoint === "" || rest.length > 0 ? null : { facility, readPoint };
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** @param kind `id`, `tag` or `raw`; @param body what stands behind it, such as `sgtin:0614141.112345.400` */
function epcName(kind: string, body: string): string | null {
  if (kind === "raw") {
    const hex = /^\d+\.(?:x[0-9a-f]+\.)?x([0-9a-f]+)$/i.exec(body)?.[1];
    if (hex === undefined) return null;
    // What is raw and stays raw is not to be read again.
    const uri = codeUri(hex);
    return uri === null || uri.startsWith("urn:epc:raw:") ? uri : thingName(uri);
  }
  const [, scheme = "", fields = ""] = /^([a-z]+)(?:-[a-z0-9]+)?:(.+)$/i.exec(body) ?? [];
  // A tag URI has the filter in front; a GID has none.
  const named = kind === "tag" && scheme.toLowerCase() !== "gid" ? fields.replace(/^\d+\./, "") : fields;
  const identity = scheme.toLowerCase();
  return gs1Key(identity, named.split(".")) ?? (named === "" ? null : `urn:epc:id:${identity}:${named}`);
}

/** The element string of a pure identity, where its scheme is that of a GS1 key. */
function gs1Key(scheme: string, parts: readonly string[]): string | null {
  const [prefix = "", reference = ""] = parts;
  // A serial may hold dots.
  const rest = decoded(parts.slice(2).join("."));
  const numbers = prefix + reference;
  const isNumber = /^\d+$/.test(numbers);
  switch (scheme) {
    case "sgtin":
      return isNumber && rest !== "" ? `(01)${leadingFirst(prefix, reference)}(21)${rest}` : null;
    case "itip": {
      const [, , piece = "", total = ""] = parts;
      const serial = decoded(parts.slice(4).join("."));
      return isNumber && serial !== ""
        ? `(8006)${leadingFirst(prefix, reference)}${piece}${total}(21)${serial}`
        : null;
    }
    case "sscc":
      return isNumber ? `(00)${leadingFirst(prefix, reference)}` : null;
    case "sgln":
      return isNumber ? glnName(checked(numbers), rest) : null;
    case "grai":
      return isNumber ? `(8003)0${checked(numbers)}${rest}` : null;
    case "giai":
      return `(8004)${prefix}${decoded(parts.slice(1).join("."))}`;
    case "gsrn":
      return isNumber ? `(8018)${checked(numbers)}` : null;
    case "gsrnp":
      return isNumber ? `(8017)${checked(numbers)}` : null;
    case "gdti":
      return isNumber ? `(253)${checked(numbers)}${rest}` : null;
    case "sgcn":
      return isNumber ? `(255)${checked(numbers)}${rest}` : null;
    case "cpi":
      return `(8010)${prefix}${decoded(reference)}(8011)${rest}`;
    default:
      return null;
  }
}

/** An extension of 0 is none. */
function glnName(gln: string, extension: string): string {
  return extension === "" || extension === "0" ? `(414)${gln}` : `(414)${gln}(254)${extension}`;
}

/** The reference's first digit (indicator, extension) stands in front of the company prefix in the key. */
function leadingFirst(prefix: string, reference: string): string {
  return checked(reference.slice(0, 1) + prefix + reference.slice(1));
}

/**
 * Digits with their check digit: weights 3 and 1 in turn from the right.
 *
 * Source: GS1 General Specifications, check digit calculation (from memory); worked example: 7061414112345 gives 70614141123451,
 * as in the EPCIS repository's example with a Digital Link (read).
 */
function checked(digits: string): string {
  let sum = 0;
  for (let at = 0; at < digits.length; at += 1)
    sum += Number(digits[digits.length - 1 - at]) * (at % 2 === 0 ? 3 : 1);
  return `${digits}${(10 - (sum % 10)) % 10}`;
}

/** Keys that name one thing: by themselves, or with what must follow. */
const linkKeys: Readonly<
  Record<string, (value: string, qualifiers: ReadonlyMap<string, string>) => string | null>
> = {
  "01": (gtin, of) => withSerial(/^\d{8,14}$/.test(gtin) ? `(01)${gtin.padStart(14, "0")}` : null, of, "21"),
  "00": (sscc) => (/^\d{18}$/.test(sscc) ? `(00)${sscc}` : null),
  "414": (gln, of) => (/^\d{13}$/.test(gln) ? glnName(gln, of.get("254") ?? "") : null),
  "8003": (grai) => (/^0\d{13}/.test(grai) ? `(8003)${grai}` : null),
  "8004": (giai) => `(8004)${giai}`,
  "8006": (itip, of) => withSerial(/^\d{18}$/.test(itip) ? `(8006)${itip}` : null, of, "21"),
  "8010": (part, of) => withSerial(`(8010)${part}`, of, "8011"),
  "8017": (gsrn) => (/^\d{18}$/.test(gsrn) ? `(8017)${gsrn}` : null),
  "8018": (gsrn) => (/^\d{18}$/.test(gsrn) ? `(8018)${gsrn}` : null),
  "253": (gdti) => (/^\d{13}/.test(gdti) ? `(253)${gdti}` : null),
  "255": (gcn) => (/^\d{13}/.test(gcn) ? `(255)${gcn}` : null),
};

/** Without a serial it is the name of a class of things. */
function withSerial(
  key: string | null,
  qualifiers: ReadonlyMap<string, string>,
  identifier: string,
): string | null {
  const serial = qualifiers.get(identifier);
  return key === null || serial === undefined || serial === "" ? null : `${key}(${identifier})${serial}`;
}

/** A domain may have a path of its own before the key. */
function digitalLinkName(text: string): string | null {
  const path = /^https?:\/\/[^/?#]+\/([^?#]*)/i.exec(text)?.[1];
  if (path === undefined) return null;
  const steps = path.replace(/\/+$/, "").split("/").map(decoded);
  for (let at = 0; at + 1 < steps.length; at += 1) {
    const key = Object.hasOwn(linkKeys, steps[at]!) ? linkKeys[steps[at]!]! : null;
    if (key === null || (steps.length - at) % 2 !== 0) continue;
    const qualifiers = new Map<string, string>();
    for (let next = at + 2; next + 1 < steps.length; next += 2)
      qualifiers.set(steps[next]!, steps[next + 1]!);
    return key(steps[at + 1]!, qualifiers);
  }
  return null;
}
