import type { Party } from "../../model/facility.ts";
import { isPlaceholder } from "../../model/placeholders.ts";
import type { Result } from "../../model/result/result.ts";

/** A fact beside its label. */
export interface Fact {
  label: string;
  text: string;
}

export interface SignatureBlock {
  heading: string;
  /** Printed where the facility states it, else left for the pen. */
  name: string;
  role: string;
}

function partyText(party: Party): string {
  return [party.name, party.role, party.organisation]
    .filter((part) => part !== null && part !== "")
    .map((part) => marked(part!))
    .join(", ");
}

/** A placeholder is printed as what it is. */
function marked(text: string): string {
  return isPlaceholder(text) ? `${text} (not filled in)` : text;
}

/** Who the report is for, what it is on, who made it and who saw it. */
export function partyFacts(
  { client, preparedBy, witnessedBy }: Pick<Result, "preparedBy" | "witnessedBy"> & { client: string | null },
  subject: { label: string; texts: (string | null)[] },
): Fact[] {
  const rows: Fact[] = [];
  if (client !== null) rows.push({ label: "Client", text: marked(client) });
  rows.push({
    label: subject.label,
    text: subject.texts
      .filter((part) => part !== null)
      .map(marked)
      .join(", "),
  });
  if (preparedBy !== null) rows.push({ label: "Prepared by", text: partyText(preparedBy) });
  if (witnessedBy.length > 0)
    rows.push({ label: "Witnessed by", text: witnessedBy.map(partyText).join("; ") });
  return rows;
}

/** Three blocks to sign: who installed, who accepts, who witnessed. Somebody of the client's who witnessed signs for the client. */
export function signatureBlocks({
  client,
  preparedBy,
  witnessedBy,
}: Pick<Result, "preparedBy" | "witnessedBy"> & { client: string | null }): SignatureBlock[] {
  const folded = (name: string | null) => (name ?? "").trim().toLowerCase();
  const isClients = ({ organisation }: Party) =>
    folded(organisation) !== "" && folded(organisation) === folded(client);
  const forClient = witnessedBy.find(isClients) ?? null;
  const witness = witnessedBy.find((party) => party !== forClient) ?? null;
  return [
    { heading: "For the installer", ...signatory(preparedBy) },
    { heading: "For the client", ...signatory(forClient) },
    { heading: "Witness", ...signatory(witness) },
  ];
}

/** An organisation is not a role, and a placeholder is neither: what is not known of a person is left for the pen. */
function signatory(party: Party | null): Pick<SignatureBlock, "name" | "role"> {
  const known = (text: string | null) => (text === null || isPlaceholder(text) ? "" : text);
  return { name: known(party?.name ?? null), role: known(party?.role ?? null) };
}
