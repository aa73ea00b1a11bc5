/**
 * What recording is measured against: a route as one would first write it. The same framework and
 * validation, and one row per request, committed as durably as the ledger does, one by one.
 */

import SqliteDatabase from "better-sqlite3";
import fastify from "fastify";
import { serializerCompiler, validatorCompiler } from "fastify-type-provider-zod";
import { z } from "zod";

const At = z.iso.datetime({ offset: true });
const Key = z.string().regex(/^[A-Za-z0-9._-]{1,64}$/);
const Millilitres = z.number().min(0).max(1_000_000);

const Entry = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("flow-started"), at: At, channel: Key, rate: Millilitres }),
  z.strictObject({ kind: z.literal("rate-changed"), at: At, channel: Key, rate: Millilitres }),
  z.strictObject({ kind: z.literal("flow-stopped"), at: At, channel: Key }),
  z.strictObject({ kind: z.literal("total-read"), at: At, channel: Key, total: Key, volume: Millilitres }),
]);
const Body = z.strictObject({ entries: z.array(Entry).min(1).max(500) });
const Params = z.strictObject({ encounter: Key });
const Answer = z.object({ id: z.number(), entries: z.array(Entry) });

/** The app on a database file of its own. */
export function plainRoute(path) {
  const database = new SqliteDatabase(path);
  database.pragma("journal_mode = WAL");
  database.pragma("synchronous = FULL");
  database.exec("create table entry (id integer primary key, encounter text not null, text text not null)");
  const insert = database.prepare("insert into entry (encounter, text) values (?, ?)");
  const app = fastify();
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  const schema = { params: Params, body: Body, response: { 201: Answer } };
  app.post("/v1/encounters/:encounter/entries", { schema }, (request, reply) => {
    const { entries } = request.body;
    const { lastInsertRowid } = insert.run(request.params.encounter, JSON.stringify(entries));
    return reply.code(201).send({ id: Number(lastInsertRowid), entries });
  });
  app.addHook("onClose", () => database.close());
  return app;
}
