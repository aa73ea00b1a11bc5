/** The whole PDF of a sheet: who, the caution and the page's number on every page, the blocks between them. Pure. */

import type { PrintWords } from "../../words/en-print.js";
import { MARGIN, type Paper, pageOf } from "../paper.js";
import type { Sheet } from "../sheet.js";
import { BODY, type Content, contentOf, FONT, WRITTEN } from "./content.js";
import { points, shownWith } from "./shown.js";
import { lineCount, type Typefaces } from "./typeface.js";

const FOOT = 7;
const NAME = 11;
/** How far lines are apart, as a share of their size. */
const APART = 1.2;
/** Beside who it is of. */
const TITLE = 110;

export function definitionOf(sheet: Sheet, paper: Paper, faces: Typefaces, words: PrintWords): object {
  const { foot } = sheet;
  const page = pageOf(paper, sheet.landscape);
  const margin = (MARGIN * 72) / 25.4;
  const width = page.width - 2 * margin;
  const shown = shownWith((codePoint) => faces.normal.has(codePoint) && faces.bold.has(codePoint));
  let boxes = false;
  const show = (text: string) => {
    const { text: kept, lost } = shown(text);
    boxes ||= lost.length > 0;
    return kept;
  };
  const who = whoLines(sheet, words, show, shown);
  const content = sheet.blocks.map((block) => contentOf(block, width, show));
  const footer = [foot.caution, foot.record, ...(boxes ? [words.boxes] : [])].map(show);
  const height = (text: string, size: number, room: number, weight: keyof Typefaces) =>
    lineCount(text, size, room, faces[weight]) * size * APART;
  const sum = (heights: readonly number[]) => heights.reduce((all, one) => all + one, 0);
  const above = sum(
    who.map(({ text, fontSize, bold }) => height(text, fontSize, width - TITLE, bold ? "bold" : "normal")),
  );
  const below = sum([...footer.map((text) => height(text, FOOT, width, "normal")), FOOT + 1]);
  return {
    pageSize: page,
    pageMargins: [margin, margin + above + 10, margin, margin + below + 12],
    language: sheet.language,
    info: { title: sheet.title },
    defaultStyle: { font: FONT, fontSize: BODY, lineHeight: 1 },
    content,
    header: (): Content => ({
      margin: [margin, margin, margin, 0],
      stack: [
        {
          columns: [
            { stack: who, width: width - TITLE },
            { text: sheet.title, fontSize: NAME, alignment: "right", width: TITLE },
          ],
        },
        { canvas: [{ type: "line", x1: 0, y1: 4, x2: width, y2: 4, lineWidth: 1 }] },
      ],
    }),
    footer: (number: number, of: number): Content => ({
      margin: [margin, 4, margin, 0],
      fontSize: FOOT,
      stack: [
        { canvas: [{ type: "line", x1: 0, y1: 0, x2: width, y2: 0, lineWidth: 0.5 }], margin: [0, 0, 0, 2] },
        ...footer.map((text) => ({ text })),
        { text: words.page(String(number), String(of)), alignment: "right", bold: true, fontSize: FOOT + 1 },
      ],
    }),
    styles: { [WRITTEN]: {} },
    pageBreakBefore: (
      node: { readonly headlineLevel?: number },
      around: { readonly getFollowingNodesOnPage: () => readonly { readonly style?: string }[] },
    ) => node.headlineLevel === 1 && !around.getFollowingNodesOnPage().some(({ style }) => style === WRITTEN),
  };
}

interface WhoLine {
  readonly text: string;
  readonly fontSize: number;
  readonly bold?: boolean;
}

/** Who and when; what of the name cannot be shown is said beside the identifier. */
function whoLines(
  { identity }: Sheet,
  words: PrintWords,
  show: (text: string) => string,
  shown: ReturnType<typeof shownWith>,
): WhoLine[] {
  const nameless = shown(identity.name ?? "").lost;
  const unidentified = shown(identity.identifier).lost;
  const name = identity.name === null ? words.noName : show(identity.name);
  const warning = (text: string) => ({ text, bold: true, fontSize: BODY });
  return [
    {
      text: `${name}    ${identity.identifierName} ${show(identity.identifier)}`,
      bold: true,
      fontSize: NAME,
    },
    ...(nameless.length === 0 ? [] : [warning(words.notShown(nameless.length, points(nameless)))]),
    ...(unidentified.length === 0 ? [] : [warning(words.identifierNotShown(points(unidentified)))]),
    { text: show(identity.place), fontSize: BODY },
    { text: show(identity.shift), fontSize: BODY },
  ];
}
