/** What the environment may say, and how the program says what is wrong with it. */

import { describe, expect, it } from "vitest";
import { ConfigRefused, readConfig } from "../../src/config.js";

function faultsOf(environment: Record<string, string>): readonly string[] {
  try {
    readConfig(environment);
  } catch (error) {
    if (error instanceof ConfigRefused) return error.faults;
    throw error;
  }
  return [];
}

describe("the environment", () => {
  it("may say nothing", () => {
    const config = { port: 8080, host: "127.0.0.1", database: "ledger.db", logLevel: "info" };
    expect(readConfig({})).toEqual(config);
    expect(readConfig({ PORT: "", HOST: "", DATABASE_URL: "", LOG_LEVEL: "" })).toEqual(config);
  });

  it("comes before what a command would take instead", () => {
    const instead = { DATABASE_URL: "file:demo.db", LOG_LEVEL: "warn" };
    expect(readConfig({ LOG_LEVEL: "debug" }, instead)).toMatchObject({
      database: "demo.db",
      logLevel: "debug",
    });
  });

  it("is frozen", () => {
    expect(readConfig({})).toSatisfy(Object.isFrozen);
  });

  it.each([
    ["0", 0],
    ["65535", 65_535],
  ])("may name port %s", (text, port) => {
    expect(readConfig({ PORT: text }).port).toBe(port);
  });

  it.each(["0.0.0.0", "::1", "localhost", "ward-4.example.org"])("may name the host %s", (host) => {
    expect(readConfig({ HOST: host }).host).toBe(host);
  });

  it.each([
    ["file:ledger.db", "ledger.db"],
    ["file:/var/lib/ledger.db", "/var/lib/ledger.db"],
    ["file:///var/lib/my%20ledger.db", "/var/lib/my ledger.db"],
  ])("may name the database %s", (url, path) => {
    expect(readConfig({ DATABASE_URL: url }).database).toBe(path);
  });

  it.each([
    ["PORT", "65536", "whole number from 0 to 65535"],
    ["PORT", "-1", "whole number from 0 to 65535"],
    ["PORT", "80a", '"80a"'],
    ["HOST", "not a host", '"not a host"'],
    ["HOST", "http://ward", "host name"],
    ["LOG_LEVEL", "loud", "fatal, error, warn, info, debug, trace, silent"],
    ["DATABASE_URL", "ledger.db", "file:ledger.db"],
    ["DATABASE_URL", "file:", "must name a file"],
    ["DATABASE_URL", "file://elsewhere/ledger.db", "must name a file"],
    ["DATABASE_URL", "file:ledger.db?mode=ro", "without ? or #"],
    ["DATABASE_URL", "file::memory:", "would be lost"],
    ["DATABASE_URL", "postgres://ward@db/ledger", "embedded store only"],
    ["DATABASE_URL", "postgresql://ward@db/ledger", "embedded store only"],
  ])("may not say %s=%s", (name, text, reason) => {
    expect(faultsOf({ [name]: text })).toEqual([expect.stringContaining(reason)]);
    expect(faultsOf({ [name]: text })[0]).toMatch(new RegExp(`^${name} `));
  });

  it("is told of all its faults at once", () => {
    const faults = faultsOf({ PORT: "none", HOST: "?", DATABASE_URL: "mysql://", LOG_LEVEL: "x" });
    expect(faults.map((fault) => fault.split(" ")[0])).toEqual(["PORT", "HOST", "DATABASE_URL", "LOG_LEVEL"]);
  });

  it("has the password of a database server repeated nowhere", () => {
    expect(faultsOf({ DATABASE_URL: "postgres://ward:hunter2@db/ledger" }).join()).not.toContain("hunter2");
    expect(faultsOf({ DATABASE_URL: "mysql://ward:hunter2@db/ledger" }).join()).not.toContain("hunter2");
  });
});
