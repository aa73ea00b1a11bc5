/** The browser of the tests comes as a package and unpacks itself; once, before tests in several processes ask for it. */

import chromium from "@sparticuz/chromium";

export async function setup(): Promise<void> {
  await chromium.executablePath();
}
