/** The roles that a caller can have. Every role is one person's or program's part in keeping the record. */

export const ROLES = ["nurse", "charge-nurse", "integration", "device", "administrator"] as const;
export type Role = (typeof ROLES)[number];
