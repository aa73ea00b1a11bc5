/** Signing in, accounts, emergency access and the log of accesses, as they are sent and answered. */

import { z } from "zod";
import { Author, LedgerHead, Next } from "./answers/head.js";
import { faultIssue } from "./fault.js";
import { InstantText } from "./instant.js";
import { Key, sentence, text } from "./text.js";

const MOST_UNITS = 200;

export const Units = z
  .array(Key)
  .max(MOST_UNITS)
  .nullable()
  .meta({ description: "The only units the caller may act on; null for every unit." });

const SHORTEST_PASSWORD = 12;
const LONGEST_PASSWORD = 200;

const Username = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._@-]{0,63}$/, {
    error: "must be 1 to 64 letters, digits, dots, underscores, hyphens or at signs.",
  })
  .meta({ description: "What the person signs in with; capitals do not count.", examples: ["i.nurse"] });

/** Long rather than odd: NIST SP 800-63B, section 5.1.1.2, asks for length and for no mixture of characters. */
const Password = z
  .string()
  .check(({ value, issues }) => {
    const { length } = [...value.slice(0, LONGEST_PASSWORD * 2 + 1)];
    if (length >= SHORTEST_PASSWORD && length <= LONGEST_PASSWORD) return;
    const detail = `must have ${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters.`;
    issues.push(faultIssue(value, "wrong-form", detail, { goOn: true }));
  })
  .meta({
    description: `${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters of any kind.`,
    format: "password",
    minLength: SHORTEST_PASSWORD,
    maxLength: LONGEST_PASSWORD,
  });

const Name = text(200, "Who it is, as entries will name them.");
const PersonsRole = z
  .enum(["nurse", "charge-nurse", "administrator"])
  .describe("Programs and devices have tokens instead.");

/** Whatever was typed: a form that is wrong is a sign-in that fails, and says no more. */
export const SignInBody = z
  .strictObject({
    username: z.string().max(200).describe("The name of the account."),
    password: z.string().max(LONGEST_PASSWORD).meta({ description: "Its password.", format: "password" }),
  })
  .meta({
    id: "SignInBody",
    description: "Who signs in.",
    examples: [{ username: "i.nurse", password: "an invented sentence" }],
  });

export const WaysToSignIn = z
  .strictObject({
    provider: z
      .string()
      .nullable()
      .describe("Where to send a browser to sign in at the identity provider; null where there is none."),
  })
  .meta({ id: "WaysToSignIn", description: "How people can sign in." });

export const AccountBody = z
  .strictObject({ username: Username, name: Name, role: PersonsRole, units: Units, password: Password })
  .meta({
    id: "AccountBody",
    description: "An account to be made.",
    examples: [
      {
        username: "i.nurse",
        name: "Imaginary Nurse",
        role: "nurse",
        units: ["east-4"],
        password: "an invented sentence",
      },
    ],
  });
export type AccountBody = z.infer<typeof AccountBody>;

export const AccountPatch = z
  .strictObject({
    name: Name.optional(),
    role: PersonsRole.optional(),
    units: Units.optional(),
    password: Password.optional(),
    active: z.boolean().optional().describe("With `false` the account lets nobody in any more."),
  })
  .meta({
    id: "AccountPatch",
    description: "What changes of an account; what is left out stays.",
    examples: [{ active: false }],
  });

export const AccountAnswer = z
  .strictObject({
    id: z.string().describe("The id the ledger made for it, for `/v1/accounts/{account}`."),
    username: z.string().describe("What the person signs in with."),
    name: z.string().describe("Who it is, as entries name them from now on."),
    role: PersonsRole,
    units: Units,
    active: z.boolean().describe("Whether the account lets anybody in: false once it was closed."),
  })
  .meta({ id: "Account", description: "An account; of its password nothing is ever shown." });

export const AccountList = z
  .strictObject({
    accounts: z
      .array(AccountAnswer)
      .describe(
        "A page of the accounts, closed ones too, in order of their usernames; empty where there are none.",
      ),
    next: Next,
  })
  .meta({ id: "AccountList", description: "Accounts, in order of their usernames." });

export const EmergencyBody = z.strictObject({ reason: sentence("Why it could not wait.") }).meta({
  id: "EmergencyBody",
  description: "Why an encounter outside of the caller's units is reached.",
  examples: [{ reason: "Cardiac arrest; the patient's own unit has nobody free." }],
});

const EmergencyId = z.string().describe("The emergency access.");

export const EmergencyAnswer = z
  .strictObject({
    id: EmergencyId,
    reason: z.string().describe("Why it could not wait, in the words of who asked for it."),
    grantedAt: InstantText,
    endsAt: InstantText.describe("From then on the encounter is out of reach again."),
  })
  .meta({ id: "EmergencyAccess", description: "An emergency access, for its caller and encounter alone." });

const LoggedAccess = z
  .strictObject({
    at: InstantText.describe("When it was answered."),
    by: Author,
    route: z.string().describe("What was asked, without its ids and its query."),
    status: z.int().describe("How it ended: the HTTP status."),
    emergency: z
      .strictObject({
        id: EmergencyId,
        reason: z.string().describe("Why it could not wait, as it was said when it was granted."),
      })
      .optional()
      .describe("Absent where the encounter was reached without one."),
  })
  .meta({ id: "LoggedAccess", description: "One request that read or wrote, or tried to." });

const ChangeOfAccount = z
  .strictObject({
    of: z.enum(["name", "role", "units", "active", "password"]).describe("What changed."),
    was: z
      .union([z.string(), z.boolean(), z.array(Key)])
      .nullable()
      .optional()
      .describe(
        "What it was: a text, a list of units (null for every unit) or whether the account was active; absent of a new account and of a password.",
      ),
    is: z
      .union([z.string(), z.boolean(), z.array(Key)])
      .nullable()
      .optional()
      .describe("What it is now, in the same form; absent of a password."),
  })
  .meta({
    id: "ChangeOfAccount",
    description:
      "What of an account changed: what it was, unless it was just made, and what it is. Of a password only that.",
  });

const AccountAccess = z
  .strictObject({
    at: InstantText.describe("When it was answered."),
    by: Author.optional().describe("Absent where nobody was signed in, as by a wrong password."),
    route: z.string().describe("What was asked; or the command, at the machine itself."),
    status: z.int().describe("How it ended: the HTTP status."),
    account: z.string().nullable().describe("The account it is about; null where nobody has the name."),
    address: z.string().describe("Where it came from."),
    changes: z.array(ChangeOfAccount).describe("What of the account is another now."),
  })
  .meta({ id: "AccountAccess", description: "A sign-in, or what was done to an account." });

export const AccountAccessList = z
  .strictObject({
    accesses: z.array(AccountAccess).describe("A page of them, the last first; empty where there are none."),
    next: Next,
  })
  .meta({ id: "AccountAccessList", description: "Sign-ins and changes of accounts, the last first." });

export const UnitAccessList = z
  .strictObject({
    accesses: z.array(LoggedAccess).describe("A page of them, the last first; empty where there are none."),
    next: Next,
  })
  .meta({ id: "UnitAccessList", description: "Who read lists and audits of a unit, the last first." });

export const AccessList = z
  .strictObject({
    ledger: LedgerHead,
    accesses: z
      .array(LoggedAccess)
      .describe("A page of the requests, the last first; empty where there are none."),
    next: Next,
  })
  .meta({ id: "AccessList", description: "Who read and wrote of an encounter, the last first." });
