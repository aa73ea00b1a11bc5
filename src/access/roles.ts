/** The roles that a caller can have. Every role is one person's or program's part in keeping the record. */

export const ROLES = ["nurse", "charge-nurse", "integration", "device", "administrator"] as const;
export type Role = (typeof ROLES)[number];

/** The roles of people, who have accounts; programs and devices have tokens. */
export const PEOPLES_ROLES = ["nurse", "charge-nurse", "administrator"] as const satisfies readonly Role[];
export type PersonsRole = (typeof PEOPLES_ROLES)[number];
