import { writeFileSync } from "node:fs";
import { launch, look } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { pagesOf, picturesOf } from "./pdf.js";
const [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
for (const at of process.argv.slice(2)) {
  const { page, faults } = await look(browser, unit, { at: `?${at}` });
  const name = at.replace(/[^a-z0-9-]/gi, "_");
  await page.screenshot({ path: `/tmp/pp-${name}.png`, fullPage: true });
  const printed = await page.pdf({ preferCSSPageSize: true, printBackground: false });
  const waiting = page.waitForEvent("download");
  await page.getByRole("button", { name: /PDF/ }).click();
  const file = await Promise.race([waiting.then((d) => d.path()), new Promise((r) => setTimeout(r, 20000))]);
  for (const [kind, pdf] of [["print", printed], ["made", file ? (await import("node:fs")).readFileSync(file as string) : null]] as const) {
    if (!pdf) { console.log("no pdf"); continue; }
    const pages = await pagesOf(pdf);
    console.log(name, kind, pdf.length, pages.map((p) => [p.size, p.text.length]));
    console.log(pages.map((p) => p.text.slice(-160)));
    for (const [i, png] of (await picturesOf(pdf)).entries()) writeFileSync(`/tmp/pp-${name}-${kind}-${i + 1}.png`, png);
  }
  console.log(faults);
}
await browser.close();
await unit.close();
