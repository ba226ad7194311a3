import type { Party } from "../../model/facility.ts";
import type { Result } from "../../model/result.ts";

export interface SignatureBlock {
  heading: string;
  /** Printed where the facility states it, else left for the pen. */
  name: string;
  role: string;
}

function partyText(party: Party): string {
  return [party.name, party.role, party.organisation]
    .filter((part) => part !== null && part !== "")
    .join(", ");
}

/** Who takes part, as pairs of a label and a text. */
export function parties(result: Result): { label: string; text: string }[] {
  const { client, address } = result.facility;
  const rows: { label: string; text: string }[] = [];
  if (client !== null) rows.push({ label: "Client", text: client });
  rows.push({
    label: "Facility",
    text: [result.facility.name, address === null ? null : address.trim().replace(/\s*\n\s*/g, ", ")]
      .filter((part) => part !== null)
      .join(", "),
  });
  if (result.preparedBy !== null) rows.push({ label: "Prepared by", text: partyText(result.preparedBy) });
  if (result.witnessedBy.length > 0) {
    rows.push({ label: "Witnessed by", text: result.witnessedBy.map(partyText).join("; ") });
  }
  return rows;
}

/** Three blocks to sign: who installed, who accepts, who witnessed. */
export function signatureBlocks(result: Result): SignatureBlock[] {
  const [witness] = result.witnessedBy;
  return [
    {
      heading: "For the installer",
      name: result.preparedBy?.name ?? "",
      role: result.preparedBy?.role ?? result.preparedBy?.organisation ?? "",
    },
    { heading: "For the client", name: "", role: "" },
    { heading: "Witness", name: witness?.name ?? "", role: witness?.role ?? witness?.organisation ?? "" },
  ];
}
