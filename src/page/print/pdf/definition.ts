/** The whole PDF of a sheet: who, the caution and the page's number on every page, the blocks between them. Pure. */

import type { PrintWords } from "../../words/en-print.js";
import { MARGIN, type Paper, pageOf } from "../paper.js";
import type { Sheet } from "../sheet.js";
import { BODY, type Content, contentOf, FONT, WRITTEN } from "./content.js";
import type { Has } from "./coverage.js";
import { points, shownWith } from "./shown.js";

const FOOT = 7;
const NAME = 11;
/** About how wide a character of the typeface is, as a share of its size, and how far lines are apart: generously. */
const WIDE = 0.55;
const APART = 1.2;

export function definitionOf(sheet: Sheet, paper: Paper, has: Has, words: PrintWords): object {
  const { foot } = sheet;
  const page = pageOf(paper, sheet.landscape);
  const margin = (MARGIN * 72) / 25.4;
  const width = page.width - 2 * margin;
  const shown = shownWith(has);
  let boxes = false;
  const show = (text: string) => {
    const { text: kept, lost } = shown(text);
    boxes ||= lost.length > 0;
    return kept;
  };
  const who = whoLines(sheet, words, show, shown);
  const content = sheet.blocks.map((block) => contentOf(block, width, show));
  const footer = [foot.caution, foot.record, ...(boxes ? [words.boxes] : [])].map(show);
  const room = (text: string, size: number) => Math.ceil((text.length * size * WIDE) / width) * size * APART;
  const sum = (heights: readonly number[]) => heights.reduce((all, height) => all + height, 0);
  const above = sum(who.map(({ text, fontSize }) => room(text, fontSize))) + 10;
  const below = sum([...footer.map((text) => room(text, FOOT)), FOOT + 1]) + 12;
  return {
    pageSize: page,
    pageMargins: [margin, margin + above, margin, margin + below],
    language: sheet.language,
    info: { title: sheet.title },
    defaultStyle: { font: FONT, fontSize: BODY, lineHeight: 1 },
    content,
    header: (): Content => ({
      margin: [margin, margin, margin, 0],
      stack: [
        // Beside what follows, which leaves it room.
        { text: sheet.title, fontSize: NAME, alignment: "right", relativePosition: { x: 0, y: 0 } },
        ...who,
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
