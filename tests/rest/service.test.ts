/** What is around the API: problem pages, health, the reference, the page, the headers of all of them. */

import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { PROBLEM_NAMES, PROBLEMS, type ProblemType, problemText } from "../../src/rest/problems.js";
import { type Store, StoreUnavailable } from "../../src/store/store.js";
import { parse } from "../../src/wire/parse.js";
import { ENTRIES, SALINE, Ward } from "./ward.js";

const sha256 = (text: string) => createHash("sha256").update(text).digest("base64");

describe("a problem type", () => {
  it.each(PROBLEM_NAMES)("%s resolves to a page that explains it, without a token", async (name) => {
    const ward = await Ward.open({ empty: true });
    const page = await ward.get(`/problems/${name}`, { as: null });
    expect([page.status, page.headers["content-type"]]).toEqual([200, "text/html; charset=utf-8"]);
    expect(page.text).toContain(`<h1>${PROBLEMS[name].title}</h1>`);
    expect(page.text).toContain(`Status ${PROBLEMS[name].status}`);
    // Self-contained: one style sheet, allowed by its digest, and nothing that is loaded or run.
    const [, style = ""] = /<style>([\s\S]*?)<\/style>/.exec(page.text) ?? [];
    const policy = page.headers["content-security-policy"] ?? "";
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain(`style-src 'sha256-${sha256(style)}'`);
    expect(page.text).not.toMatch(/<script|<link|<img|style=|https?:/);
  });

  it.each(PROBLEM_NAMES)("%s has an example that is what its document says", (name) => {
    const { example, document, status }: ProblemType = PROBLEMS[name];
    const { detail, ...members } = example as { detail?: string };
    const text = JSON.parse(problemText({ name, detail, members })) as { status: number };
    expect(parse(document, text).faults).toBeUndefined();
    expect(text.status).toBe(status);
  });

  it("is in the index; one that is none leads nowhere", async () => {
    const ward = await Ward.open({ empty: true });
    const index = await ward.get("/problems", { as: null });
    for (const name of PROBLEM_NAMES) expect(index.text).toContain(`href="/problems/${name}"`);
    for (const name of ["nothing", "constructor"]) {
      expect((await ward.get(`/problems/${name}`, { as: null })).status).toBe(404);
    }
  });
});

/** A store whose database has gone away, or that makes a mistake. */
function failing(error: Error): (store: Store) => Store {
  return (store) =>
    Object.assign(Object.create(store) as Store, {
      tokenByHash: (hash: string) => store.tokenByHash(hash),
      read: () => Promise.reject(error),
      transact: () => Promise.reject(error),
    });
}

describe("when the service is not well", () => {
  it("says that it runs and is not ready, and when to try again", async () => {
    const ward = await Ward.open({
      empty: true,
      store: failing(new StoreUnavailable("disk of P-20417 is full")),
    });
    expect((await ward.get("/health/live", { as: null })).body).toEqual({ status: "live" });
    for (const path of ["/health/ready", "/v1/units"]) {
      const answer = await ward.get(path);
      expect([answer.status, answer.headers["retry-after"]]).toEqual([503, "1"]);
      expect(answer.body).toEqual({
        type: "/problems/unavailable",
        title: "The ledger cannot be reached",
        status: 503,
        detail: "Try again in 1 s.",
      });
    }
  });

  it("says of a mistake of its own nothing but that it was one", async () => {
    const ward = await Ward.open({
      empty: true,
      store: failing(new TypeError("cannot read P-20417 of undefined")),
    });
    const answer = await ward.get("/v1/units");
    expect([answer.status, answer.body]).toEqual([
      500,
      { type: "/problems/internal", title: "A mistake of the service", status: 500 },
    ]);
  });

  it("is ready when it is well", async () => {
    const ward = await Ward.open({ empty: true });
    const answer = await ward.get("/health/ready", { as: null });
    expect([answer.status, answer.body]).toEqual([200, { status: "ready" }]);
  });
});

describe("headers", () => {
  it("keep what is of a patient out of caches and out of pages", async () => {
    const ward = await Ward.open();
    for (const answer of [
      await ward.get(ENTRIES),
      await ward.get("/v1/nothing"),
      await ward.record(SALINE),
    ]) {
      expect(answer.headers).toMatchObject({
        "cache-control": "no-store",
        "x-content-type-options": "nosniff",
      });
      expect(answer.headers["content-security-policy"]).toMatch(/^default-src '(?:none|self)'/);
    }
  });

  it("carry the caller's id of the request where it is a sane one", async () => {
    const ward = await Ward.open({ empty: true });
    const sane = await ward.get("/v1/me", { headers: { "x-request-id": "chart-sync.42" } });
    expect(sane.headers["x-request-id"]).toBe("chart-sync.42");
    for (const id of ["short", "with space in it", "x".repeat(65), '{"a":1234567}']) {
      const answer = await ward.get("/v1/me", { headers: { "x-request-id": id } });
      expect(answer.headers["x-request-id"]).toMatch(/^[0-9a-f-]{36}$/);
    }
  });
});

describe("the reference", () => {
  it("comes whole from the service, and may run nothing else", async () => {
    const ward = await Ward.open({ empty: true });
    expect((await ward.get("/reference", { as: null })).headers.location).toBe("/reference/");
    const page = await ward.get("/reference/", { as: null });
    expect(page.status).toBe(200);
    expect(page.text).not.toMatch(/https?:\/\//);
    const [, script = ""] = /<script type="text\/javascript">([\s\S]*?)<\/script>/.exec(page.text) ?? [];
    const policy = page.headers["content-security-policy"] ?? "";
    expect(policy).toContain(`script-src 'self' 'sha256-${sha256(script)}';`);
    expect(policy).not.toMatch(/unsafe-eval|https:|\*/);
    expect(page.text).toContain('"favicon": "data:,"');
    const code = await ward.get("/reference/js/scalar.js", { as: null });
    expect([code.status, code.headers["content-type"]]).toEqual([
      200,
      "application/javascript; charset=utf-8",
    ]);
  });

  it("allows what it needs to itself alone", async () => {
    const ward = await Ward.open({ empty: true });
    for (const path of ["/problems", "/v1/me", "/health/live", "/nothing"]) {
      expect((await ward.get(path)).headers["content-security-policy"], path).not.toContain("unsafe-inline");
    }
  });
});

describe("the page", () => {
  async function served(): Promise<Ward> {
    const root = mkdtempSync(join(tmpdir(), "page-"));
    onTestFinished(() => rmSync(root, { recursive: true }));
    mkdirSync(join(root, "assets"));
    writeFileSync(join(root, "index.html"), "<!doctype html><title>Ward</title>");
    writeFileSync(join(root, "secret.txt"), "not for the page");
    writeFileSync(join(root, "assets", "page-1a2b.js"), "export {};");
    return Ward.open({ empty: true, pageRoot: root });
  }

  it("is at exactly /, and runs only what comes from here", async () => {
    const ward = await served();
    const page = await ward.get("/", { as: null });
    expect([page.status, page.text]).toEqual([200, "<!doctype html><title>Ward</title>"]);
    expect(page.headers["content-security-policy"]).toBe(
      "default-src 'self';base-uri 'none';form-action 'self';frame-ancestors 'none';object-src 'none'",
    );
    expect(page.headers["cache-control"]).toBe("public, max-age=0");
    for (const path of ["/index.html", "/secret.txt", "/patients", "/assets", "/assets/"]) {
      expect((await ward.get(path, { as: null })).status, path).toBe(404);
    }
  });

  it("loads what it needs from /assets, once", async () => {
    const ward = await served();
    const asset = await ward.get("/assets/page-1a2b.js", { as: null });
    expect([asset.status, asset.headers["cache-control"]]).toEqual([
      200,
      "public, max-age=31536000, immutable",
    ]);
    for (const path of ["/assets/../secret.txt", "/assets/%2e%2e/secret.txt", "/assets/..%2fsecret.txt"]) {
      expect((await ward.get(path, { as: null })).status, path).not.toBe(200);
    }
  });
});
