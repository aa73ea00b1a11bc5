/** Makes the PDF of a sheet in the browser and hands it to whoever asked for it: the library comes when it is wanted. */

import regular from "dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url";
import bold from "dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf?url";
import pdfMake from "pdfmake/build/pdfmake.min.js";
import type { PrintWords } from "../../words/en-print.js";
import type { Paper } from "../paper.js";
import type { Sheet } from "../sheet.js";
import { FONT } from "./content.js";
import { definitionOf } from "./definition.js";
import { type Typefaces, typefaceOf } from "./typeface.js";

/** Saves under `name`; throws where the typeface cannot be fetched. */
export async function savePdf(sheet: Sheet, paper: Paper, words: PrintWords, name: string): Promise<void> {
  const faces = await typefaces();
  const blob = await pdfMake.createPdf(definitionOf(sheet, paper, faces, words)).getBlob();
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken it by the time the next task runs; a minute is for slow ones.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

let fetched: Promise<Typefaces> | null = null;

/** The typeface in both weights, fetched once. */
function typefaces(): Promise<Typefaces> {
  fetched ??= Promise.all([regular, bold].map(bytesAt)).then(([normal, heavy]) => {
    pdfMake.addVirtualFileSystem({
      "regular.ttf": { data: base64(normal!), encoding: "base64" },
      "bold.ttf": { data: base64(heavy!), encoding: "base64" },
    });
    pdfMake.fonts = { [FONT]: { normal: "regular.ttf", bold: "bold.ttf" } };
    return { normal: typefaceOf(normal!), bold: typefaceOf(heavy!) };
  });
  fetched.catch(() => {
    fetched = null;
  });
  return fetched;
}

async function bytesAt(address: string): Promise<ArrayBuffer> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return response.arrayBuffer();
}

/** In pieces, since a call takes only so many arguments. */
function base64(bytes: ArrayBuffer): string {
  const all = new Uint8Array(bytes);
  let text = "";
  for (let at = 0; at < all.length; at += 8192) text += String.fromCharCode(...all.subarray(at, at + 8192));
  return btoa(text);
}
