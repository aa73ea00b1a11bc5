/** For everybody: axe finds nothing on any page, in light and dark; nothing scrolls sideways; targets are large. */

import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { launch, look } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { VIEWS } from "./views.js";

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

/** In the dark nothing but the colours is another. */
async function faultsFound(page: Page, scheme: "light" | "dark"): Promise<string[]> {
  await page.emulateMedia({ colorScheme: scheme });
  const axe = new AxeBuilder({ page });
  const { violations } = await (scheme === "dark" ? axe.withRules(["color-contrast"]) : axe).analyze();
  return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 200)}`));
}

/** Buttons and the like that are smaller than a gloved finger; what is folded away has no size. */
function smallTargets(page: Page): Promise<string[]> {
  return page.$$eval("button, select, summary, a, input:not([type=checkbox])", (targets) =>
    targets
      .filter((target) => !target.parentElement?.style.clip)
      .map((target) => ({ box: target.getBoundingClientRect(), html: target.outerHTML.slice(0, 120) }))
      // Half a pixel is rounding; what is clipped is for screen readers alone.
      .filter(({ box }) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
      .map(({ box, html }) => `${Math.round(box.width)} × ${Math.round(box.height)}: ${html}`),
  );
}

const width = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth);

it.each(VIEWS)(
  "$name is for everybody, in light and dark, from 768 to 1920 px",
  async ({ looking, after }) => {
    const { page, faults } = await look(browser, unit, { ...looking, size: { width: 768, height: 1024 } });
    await after?.(page);
    expect(await width(page)).toBe(768);
    expect(await smallTargets(page)).toEqual([]);
    expect(await faultsFound(page, "light")).toEqual([]);
    expect(await faultsFound(page, "dark")).toEqual([]);
    await page.setViewportSize({ width: 1920, height: 1080 });
    expect(await width(page)).toBe(1920);
    expect(faults).toEqual([]);
    await page.context().close();
  },
);
