/** What `new` writes into facility.yaml where only people know the answer. Nothing of it may reach a signature. */
export const placeholders = {
  name: "My facility",
  client: "My client",
  address: "Street, town",
  number: "R-000",
  issued: "2000-01-01",
  preparer: "Name of the engineer",
  preparerOrganisation: "My firm",
  witness: "Name of the witness",
  role: "Role",
} as const;

const texts: ReadonlySet<string> = new Set(Object.values(placeholders));

/** Stands before the title of a criterion that nobody has agreed to yet. */
export const proposal = "Proposal: ";

/** Whether a text of facility.yaml is still as `new` wrote it. */
export function isPlaceholder(text: string): boolean {
  return texts.has(text.trim()) || text.startsWith(proposal.trim());
}
