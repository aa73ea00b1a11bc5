/** Ledgers on files with a clock that stands until it is set, and stays told into them. */

import { newToken } from "../../dist/src/access/token.js";
import { Ledger } from "../../dist/src/ledger/ledger.js";
import { openSqlite } from "../../dist/src/store/sqlite.js";
import { parseEntries } from "../../dist/src/wire/entry.js";
import { HOUR, UNIT } from "./story.mjs";

const NURSE = { id: "nurse-1", name: "A. Nurse", role: "nurse", source: "person", units: null };

/** A ledger that answers what it did, or throws: nothing a bench sends may be refused. */
export class BenchLedger {
  #store;
  #ledger;

  /** Opens the ledger in a file, and makes it where there is none. */
  static async open(path, now) {
    return new BenchLedger(await openSqlite(path, { migrate: true }), now);
  }

  constructor(store, now) {
    this.now = now;
    this.#store = store;
    this.#ledger = new Ledger(store, () => this.now);
  }

  async openUnit(unit = UNIT) {
    taken(await this.#ledger.openUnit(NURSE, unit, null));
  }

  async admit(id, at, unit = UNIT.id) {
    const admitted = {
      id,
      unit,
      patient: { identifier: id },
      admittedAt: new Date(at).toISOString(),
    };
    taken(await this.#ledger.admit(NURSE, admitted, null));
  }

  /** Records entries as a POST does, its body parsed. */
  async post(encounter, entries, dryRun = false) {
    const parsed = parseEntries({ entries });
    if (parsed.faults !== undefined) throw new Error(JSON.stringify(parsed.faults));
    const posted = parsed.entries.map((entry, i) => ({ sent: entries[i], entry }));
    return taken(
      await this.#ledger.record(NURSE, encounter, { posted, ifMatch: null, dryRun, queued: true }, null),
    );
  }

  /** A bearer token for a nurse of every unit, or another role. */
  async token(role = NURSE.role) {
    const { secret, hash } = newToken();
    const { id, name, units } = NURSE;
    const good = { createdAt: this.now, expiresAt: null, revokedAt: null };
    await this.#store.createToken({ id, hash, role, name, units, ...good });
    return secret;
  }

  /** Tells a part of a story as a stay of its own: an hour's entries are posted at the hour's end. */
  async tell(encounter, hours) {
    this.now = hours[0].start;
    await this.admit(encounter, this.now);
    await this.post(encounter, hours[0].opening);
    for (const { start, entries } of hours) {
      this.now = start + HOUR;
      await this.post(encounter, entries);
    }
  }

  close() {
    return this.#store.close();
  }
}

function taken(outcome) {
  if (outcome.refused !== undefined) throw new Error(JSON.stringify(outcome.refused));
  return outcome.done;
}
