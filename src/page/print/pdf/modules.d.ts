/** What of the PDF library is used: its own types would bring those of Node into the page. */

declare module "pdfmake/build/pdfmake.min.js" {
  export interface Made {
    getBlob(): Promise<Blob>;
  }
  interface PdfMake {
    fonts: Readonly<Record<string, Readonly<Record<"normal" | "bold", string>>>>;
    addVirtualFileSystem(files: Readonly<Record<string, { data: string; encoding: "base64" }>>): void;
    createPdf(definition: object): Made;
  }
  const pdfMake: PdfMake;
  export default pdfMake;
}

/** The address at which the build puts a typeface. */
declare module "*.ttf?url" {
  const address: string;
  export default address;
}
