/** What the environment may say, and how the program says what is wrong with it. */

import { describe, expect, it } from "vitest";
import { DEFAULT_ACCESS } from "../../src/access/settings.js";
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
    expect(readConfig({})).toEqual({ ...config, access: DEFAULT_ACCESS });
    expect(readConfig({ PORT: "", HOST: "", DATABASE_URL: "", LOG_LEVEL: "" })).toMatchObject(config);
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
    ["PUBLIC_URL", "ledger.example.org", "where browsers find the service"],
    ["PUBLIC_URL", "https://ledger.example.org/pages", "where browsers find the service"],
    ["TRUSTED_PROXIES", "10.0.0.1,proxy", '"proxy"'],
    ["SESSION_IDLE_MINUTES", "0", "whole number from 1 to 720"],
    ["SESSION_HOURS", "48", "whole number from 1 to 24"],
    ["OIDC_ISSUER", "http://id.example.org", "with https"],
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

  it("may name an identity provider, and what its words mean", () => {
    const { access } = readConfig({
      OIDC_ISSUER: "https://id.example.org",
      OIDC_AUDIENCE: "ledger",
      OIDC_ROLES: "ward-lead=charge-nurse, ward-nurse=nurse",
      OIDC_UNITS: "group-east=east-4,hospital=*",
      PUBLIC_URL: "https://ledger.example.org/",
      TRUSTED_PROXIES: "10.0.0.1, 10.1.0.0/16",
      SESSION_IDLE_MINUTES: "5",
    });
    expect(access).toMatchObject({
      sessions: { idle: 300_000, whole: 43_200_000 },
      publicOrigin: "https://ledger.example.org",
      proxies: ["10.0.0.1", "10.1.0.0/16"],
      provider: {
        issuer: "https://id.example.org",
        audience: "ledger",
        roleClaim: "roles",
        roles: [
          ["ward-lead", "charge-nurse"],
          ["ward-nurse", "nurse"],
        ],
        unitsClaim: "units",
        units: [
          ["group-east", "east-4"],
          ["hospital", "*"],
        ],
      },
    });
  });

  it("must say what a provider's tokens are for and what its words mean", () => {
    const faults = faultsOf({ OIDC_ISSUER: "https://id.example.org", OIDC_ROLES: "ward-lead=surgeon" });
    expect(faults.map((fault) => fault.split(" ")[0])).toEqual(["OIDC_AUDIENCE", "OIDC_ROLES"]);
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
