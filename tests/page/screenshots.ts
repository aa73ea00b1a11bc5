/**
 * `npm run screenshots`: every view and state, on a tablet and on a desktop, light and dark, and each page of what
 * is printed and saved, into `screenshots`, which git ignores. They are for people to look at; no test compares them.
 */

import { mkdir, readFile, writeFile } from "node:fs/promises";
import { DESKTOP, launch, look, TABLET } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { picturesOf } from "./pdf.js";
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
for (const view of VIEWS.filter(({ name }) => name.includes(only))) {
  const { page } = await look(browser, unit, view.looking);
  const save = page.getByRole("button", { name: /PDF/ });
  if ((await save.count()) > 0) {
    const printed = await page.pdf({ preferCSSPageSize: true });
    const [saved] = await Promise.all([page.waitForEvent("download"), save.click()]);
    for (const [how, pdf] of Object.entries({ printed, saved: await readFile(await saved.path()) })) {
      for (const [index, picture] of (await picturesOf(pdf)).entries()) {
        await writeFile(`${FOLDER}/${view.name}-${how}-${index + 1}.png`, picture);
        taken += 1;
      }
    }
  }
  await page.context().close();
}
await browser.close();
await unit.close();
console.log(`${taken} pictures in ${FOLDER}`);
