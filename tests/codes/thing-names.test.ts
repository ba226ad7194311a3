import { expect, test } from "vitest";
import { documentUri, thingName } from "../../src/codes/thing-names.ts";

// The check digits and keys below were worked out by hand with weights 3 and 1.

test("a tag, its EPC URI, its tag URI, its raw URI and its Digital Link name one thing", () => {
  const ways = [
    "3034257BF40C0E40000F4245",
    "3034 257b f40c 0e40 000f 4245",
    "urn:epc:id:sgtin:0614141.012345.1000005",
    "urn:epc:tag:sgtin-96:1.0614141.012345.1000005",
    "urn:epc:raw:96.x3034257BF40C0E40000F4245",
    "https://id.example.com/01/00614141123452/21/1000005",
    "https://example.org/some/shop/01/00614141123452/22/A/10/LOT/21/1000005?17=271231#top",
    "http://example.org/01/614141123452/21/1000005/",
  ];
  expect(ways.map(thingName)).toEqual(ways.map(() => "(01)00614141123452(21)1000005"));
});

test.each([
  [
    "urn:epc:id:sscc:0614141.1234567890",
    "https://example.org/00/106141412345678908",
    "(00)106141412345678908",
  ],
  [
    "urn:epc:id:sgln:0614141.07346.1234",
    "https://example.org/414/0614141073467/254/1234",
    "(414)0614141073467(254)1234",
  ],
  ["urn:epc:id:sgln:0614141.07346.0", "https://example.org/414/0614141073467", "(414)0614141073467"],
  [
    "urn:epc:id:grai:0614141.12345.400",
    "https://example.org/8003/00614141123452400",
    "(8003)00614141123452400",
  ],
  ["urn:epc:id:giai:0614141.12%2F5", "https://example.org/8004/061414112%2F5", "(8004)061414112/5"],
  [
    "urn:epc:id:gsrn:0614141.1234567890",
    "https://example.org/8018/061414112345678902",
    "(8018)061414112345678902",
  ],
  [
    "urn:epc:id:gdti:0614141.12345.006847",
    "https://example.org/253/0614141123452006847",
    "(253)0614141123452006847",
  ],
  [
    "urn:epc:id:cpi:0614141.5PQ7%2FZ43.12",
    "https://example.org/8010/06141415PQ7%2FZ43/8011/12",
    "(8010)06141415PQ7/Z43(8011)12",
  ],
])("%s and %s are one thing", (epc, link, name) => {
  expect([thingName(epc), thingName(link)]).toEqual([name, name]);
});

test("what names a class of things, or breaks the rules of its kind, stays as it is written", () => {
  for (const text of [
    "https://example.org/01/00614141123452",
    "https://example.org/01/00614141123452/10/LOT",
    "https://example.org/about/us",
    "urn:epc:id:sgtin:0614141.x12345.7",
    "urn:epc:raw:64.00001234",
    "urn:uuid:374d95fc-9457-4a51-bd6a-0bba133845a8",
    "crate 7",
  ])
    expect(thingName(text)).toBe(text);
});

test("a document names every tag by a URI, and each is read back as the same thing", () => {
  const uris = {
    "3034257BF40C0E40000F4245": "urn:epc:id:sgtin:0614141.012345.1000005",
    E2004216CB60601500951ED6: "urn:epc:raw:96.xE2004216CB60601500951ED6",
    "crate 7/ä": "https://proofwalk.invalid/tag/crate%207%2F%C3%A4",
    "urn:uuid:374d95fc-9457-4a51-bd6a-0bba133845a8": "urn:uuid:374d95fc-9457-4a51-bd6a-0bba133845a8",
  };
  for (const [code, uri] of Object.entries(uris)) {
    expect(documentUri(code)).toBe(uri);
    expect(thingName(uri)).toBe(thingName(code));
  }
});
