/**
 * A nurse at the page, with a finger: taps are counted and written down as a path, digits on the pad are not, since
 * a number has as many as it has.
 */

import type { Locator, Page } from "playwright-core";

export class Nurse {
  /** What was tapped, in order. */
  readonly path: string[] = [];

  constructor(readonly page: Page) {}

  get dialog(): Locator {
    return this.page.getByRole("dialog");
  }

  /** Taps a button, in the sheet that is open or on the page. */
  async tap(name: string | RegExp): Promise<void> {
    const open = (await this.dialog.count()) > 0;
    const within = open ? this.dialog : this.page;
    const button = within.getByRole("button", typeof name === "string" ? { name, exact: true } : { name });
    const called = (await button.getAttribute("aria-label")) ?? (await button.textContent()) ?? "";
    await button.click();
    this.path.push(called);
  }

  /** Taps one of several. */
  async choose(label: string): Promise<void> {
    await this.dialog
      .locator("label.option")
      .filter({ hasText: new RegExp(`^${escaped(label)}`) })
      .first()
      .click();
    this.path.push(label);
  }

  /** Taps a number's field, so that the pad types into it. */
  async field(label: string | RegExp): Promise<void> {
    await this.dialog.getByLabel(label).first().click();
    this.path.push(String(label));
  }

  /** Digits on the pad. */
  async digits(text: string): Promise<void> {
    const pad = this.dialog.getByRole("group", { name: "Number pad" });
    for (const key of text) {
      await pad.getByRole("button", { name: key === "." ? "Decimal sign" : key, exact: true }).click();
    }
  }

  /** Records, and waits until it is. */
  async record(button = "Record"): Promise<void> {
    await this.tap(button);
    await this.dialog.waitFor({ state: "detached" });
  }

  /** Signs what is asked, waits until it is, and closes the sheet. */
  async sign(): Promise<void> {
    await this.tap("Sign");
    await this.dialog.getByRole("alert").getByText("Signed").waitFor();
    await this.record("Close");
  }
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
