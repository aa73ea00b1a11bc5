/** Reads a PDF as a person does: the text of each page, and its size; and makes pictures of its pages to look at. */

import { getDocument, type PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";

export interface PdfPage {
  /** All text in the order in which it was drawn, spaces of any kind and breaks as one space. */
  readonly text: string;
  /** Millimetres, rounded. */
  readonly size: readonly [width: number, height: number];
  /** Texts that the edge of the paper would cut. */
  readonly cut: readonly string[];
}

const MM = 25.4 / 72;

export async function pagesOf(pdf: Uint8Array): Promise<PdfPage[]> {
  return eachPage(pdf, async (page) => {
    const { items } = await page.getTextContent();
    // What begins left of where the last text ended is another text, also on the same line.
    let end = 0;
    const text = items
      .map((item) => {
        if (!("str" in item)) return "";
        const x = Number(item.transform[4]);
        const apart = x < end - 1 ? " " : "";
        end = x + item.width;
        return `${apart}${item.str}${item.hasEOL ? " " : ""}`;
      })
      .join("");
    const { width, height } = page.getViewport({ scale: 1 });
    const cut = items.flatMap((item) => {
      if (!("str" in item) || item.str.trim() === "") return [];
      const [x = 0, y = 0] = item.transform.slice(4) as number[];
      return x < 0 || x + item.width > width || y < 0 || y + item.height > height ? [item.str] : [];
    });
    return {
      cut,
      text: text.replace(/\s+/g, " ").normalize("NFC"),
      size: [Math.round(width * MM), Math.round(height * MM)],
    };
  });
}

/** A PNG per page, at so many dots per inch. */
export async function picturesOf(pdf: Uint8Array, dotsPerInch = 110): Promise<Buffer[]> {
  return eachPage(pdf, async (page, factory) => {
    const viewport = page.getViewport({ scale: dotsPerInch / 72 });
    const { canvas, context } = factory.create(viewport.width, viewport.height);
    await page.render({ canvas: null, canvasContext: context, viewport }).promise;
    return canvas.toBuffer("image/png");
  });
}

/** What the reader draws on where there is no browser. */
interface Factory {
  create(
    width: number,
    height: number,
  ): { canvas: { toBuffer(type: "image/png"): Buffer }; context: CanvasRenderingContext2D };
}

async function eachPage<T>(
  pdf: Uint8Array,
  take: (page: PDFPageProxy, factory: Factory) => Promise<T>,
): Promise<T[]> {
  const loading = getDocument({ data: new Uint8Array(pdf), verbosity: 0 });
  const document = await loading.promise;
  const taken: T[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    taken.push(await take(await document.getPage(number), document.canvasFactory as Factory));
  }
  await loading.destroy();
  return taken;
}
