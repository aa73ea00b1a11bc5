/**
 * A headless browser at the page, as a person has it: a tablet unless told otherwise. Whatever the page does that
 * it may not (an error, something the policy forbids, a word to another host) is kept, for tests to find nothing.
 */

import chromium from "@sparticuz/chromium";
import { type Browser, type Page, chromium as playwright } from "playwright-core";
import type { DemoUnit } from "./demo-unit.js";

export const TABLET = { width: 820, height: 1180 };
export const DESKTOP = { width: 1440, height: 900 };

/** The package's own arguments would switch the security of the web off. */
const ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"];

export async function launch(): Promise<Browser> {
  const executablePath = await chromium.executablePath();
  return playwright.launch({ executablePath, headless: true, args: ARGUMENTS });
}

export interface Looking {
  readonly size?: { readonly width: number; readonly height: number };
  readonly scheme?: "light" | "dark";
  readonly locale?: string;
  /** "?encounter=demo-a"; absent for the patients. */
  readonly at?: string;
  /** Signed in by a token of this role; null for nobody. */
  readonly as?: string | null;
}

export interface Looked {
  readonly page: Page;
  /** What the page did that it may not. */
  readonly faults: string[];
}

/** Opens the page and waits until nothing is loading. */
export async function look(browser: Browser, unit: DemoUnit, looking: Looking = {}): Promise<Looked> {
  const { size = TABLET, scheme = "light", locale = "en-US", at = "", as = "nurse" } = looking;
  const context = await browser.newContext({ viewport: size, colorScheme: scheme, locale });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => {
    // That nobody is signed in yet is told as a 401, which the browser notes.
    const expected = message.text().startsWith("Failed to load resource");
    if (message.type() === "error" && !expected) faults.push(message.text());
  });
  page.on("request", (request) => {
    if (!request.url().startsWith(unit.url)) faults.push(`asked ${request.url()}`);
  });
  const fragment = as === null ? "" : `#token=${unit.token(as)}`;
  await page.goto(`${unit.url}${at}${fragment}`);
  await settled(page);
  return { page, faults };
}

/** Waits until the view is there, with whatever it shows. */
export async function settled(page: Page): Promise<void> {
  await page.waitForSelector("h1, .notice");
  await page.waitForSelector("[role=status], [aria-busy=true]", { state: "detached" });
}
