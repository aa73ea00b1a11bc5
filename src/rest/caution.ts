/** What everybody who reads a figure of the ledger has to know; the description of the API begins with it. */

export const CAUTION =
  "The ledger is documentation. It controls no device, doses no drug and gives no advice on treatment. A volume it computes is an estimate from what was written down: the device, the bag and the patient are looked at first, and local policy and licensed practice decide.";
