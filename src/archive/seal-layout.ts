/** Where things stand in a seal. */

/** What signatures of a seal are made for: `ssh-keygen -n`. A signature made for something else says nothing of a seal. */
export const namespace = "proofwalk-seal";

export const manifestFile = "manifest-sha512.txt";
export const tagManifestFile = "tagmanifest-sha512.txt";
export const algorithm = "sha512";

/** What the tag manifest lists. */
export const tagFiles = ["HOW-TO-VERIFY.txt", "bag-info.txt", "bagit.txt", manifestFile];

/** What is added later, and so listed nowhere. */
export const signaturesFolder = "signatures/";
export const timestampsFolder = "timestamps/";

export const resultFile = "data/result.json";
export const inputsFolder = "data/inputs/";

/** Begins the value of Bag-Software-Agent: it tells a seal from other bags. */
export const agent = "proofwalk";

/** The end of a signature's file name; who signed stands in front. */
export const signatureEnd = ".sig";
