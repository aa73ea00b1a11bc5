/** The licences of what the page is built of go with it, the typeface's among them, as they ask for. */

import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

it("names what is built in, with the texts of the licences", () => {
  const text = readFileSync(new URL("../../dist/page/licences.md", import.meta.url), "utf8");
  for (const name of ["react", "react-aria-components", "pdfmake", "dejavu-fonts-ttf"]) {
    expect(text).toMatch(new RegExp(`^## ${name} - `, "m"));
  }
  expect(text).toContain("Bitstream Vera Fonts Copyright");
  expect(text).toContain("Permission is hereby granted, free of charge");
});
