/**
 * `npm run screenshots`: every view and state, on a tablet and on a desktop, light and dark, into `screenshots`,
 * which git ignores. They are for people to look at; no test compares them.
 */

import { mkdir } from "node:fs/promises";
import { DESKTOP, launch, look, TABLET } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { VIEWS } from "./views.js";

const FOLDER = "screenshots";
/** Only the views whose names have this in them; all without. */
const only = process.argv[2] ?? "";

await mkdir(FOLDER, { recursive: true });
const [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
let taken = 0;
for (const view of VIEWS.filter(({ name }) => name.includes(only))) {
  for (const [device, size] of Object.entries({ tablet: TABLET, desktop: DESKTOP })) {
    for (const scheme of ["light", "dark"] as const) {
      const { page } = await look(browser, unit, { ...view.looking, size, scheme });
      await view.after?.(page);
      const sheet = (await page.getByRole("dialog").count()) > 0;
      await page.screenshot({ path: `${FOLDER}/${view.name}-${device}-${scheme}.png`, fullPage: !sheet });
      await page.context().close();
      taken += 1;
    }
  }
}
await browser.close();
await unit.close();
console.log(`${taken} pictures in ${FOLDER}`);
