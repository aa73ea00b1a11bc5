/** Signing in to the page and out again, and a session that ends where somebody has left. */

import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launch, look, settled } from "./browser.js";
import { DemoUnit, PASSWORD } from "./demo-unit.js";

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

async function signInAs(username: string, password: string, at = "") {
  const looked = await look(browser, unit, { as: null, at });
  await looked.page.getByLabel("Name").fill(username);
  await looked.page.getByLabel("Password").fill(password);
  await looked.page.getByRole("button", { name: "Sign in" }).click();
  return looked;
}

describe("who signs in with a name and a password", () => {
  it("comes to the patients, and out again", async () => {
    const { page, faults } = await signInAs("n.daytime", PASSWORD);
    await page.getByRole("link", { name: /Demo Patient A/ }).waitFor();
    await page.getByText("Signed in as Nell Daytime (invented)").waitFor();
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    await page.reload();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await page.getByText("Demo Patient A").count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it("comes to what the address names", async () => {
    const { page } = await signInAs("n.daytime", PASSWORD, "?encounter=demo-b");
    await page.getByRole("heading", { name: /Demo Patient B/ }).waitFor();
  });

  it("is told that it was not right, and not which of the two", async () => {
    const { page } = await signInAs("n.daytime", "something else");
    await page.getByRole("alert").getByText("The name or the password is not right.").waitFor();
    expect(await page.getByLabel("Password").inputValue()).toBe("");
    expect(await page.getByLabel("Name").inputValue()).toBe("n.daytime");
  });
});

describe("who has an account at the hospital's provider", () => {
  it("is shown the way there, and nobody is where there is none", async () => {
    const bare = await look(browser, unit, { as: null });
    expect(await bare.page.getByRole("link").count()).toBe(0);
    const { page } = await look(browser, unit, { as: null });
    const ways = { provider: "/v1/session/provider" };
    await page.route("**/v1/session", (route) => route.fulfill({ json: ways }));
    await page.reload();
    const link = page.getByRole("link", { name: "Sign in with your hospital account" });
    expect(await link.getAttribute("href")).toBe("/v1/session/provider");
  });
});

describe("a token", () => {
  it("is taken out of the address, and kept as long as the tab", async () => {
    const { page } = await look(browser, unit);
    expect(page.url()).toBe(unit.url);
    await page.reload();
    await page.getByRole("link", { name: /Demo Patient A/ }).waitFor();
  });

  it("may be typed in; one that is not accepted is said to be so", async () => {
    const { page } = await look(browser, unit, { as: null });
    await page.getByText("With a token instead").click();
    const typed = page.getByLabel("Access token");
    await typed.fill("infledger_wrong");
    await page.getByRole("button", { name: "Use this token" }).click();
    await page.getByText("That token is not accepted, or no longer.").waitFor();
    await page.getByText("With a token instead").click();
    await typed.fill(unit.token());
    await page.getByRole("button", { name: "Use this token" }).click();
    await page.getByRole("link", { name: /Demo Patient A/ }).waitFor();
  });
});

describe("a workstation that was left", () => {
  it("is signed out by itself, with nothing of a patient left on it", async () => {
    const { page } = await look(browser, unit, { as: null, at: "?encounter=demo-a" });
    // From here on the page's own timers go by the test.
    await page.clock.install();
    await page.reload();
    await page.getByLabel("Name").fill("n.daytime");
    await page.getByLabel("Password").fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByRole("heading", { name: /Demo Patient A/ }).waitFor();
    await settled(page);
    // Somebody was there in the first minute; then nobody for longer than a session lasts.
    await page.clock.runFor(61_000);
    await page.getByRole("heading", { name: /Demo Patient A/ }).waitFor();
    unit.wait(11);
    await page.clock.runFor(61_000);
    await page.getByText("You were signed out, since nobody used this page for a while.").waitFor();
    expect(await page.getByText("Demo Patient A").count()).toBe(0);
  });
});
