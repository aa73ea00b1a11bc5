/**
 * A sheet as it is printed from the browser. Who and when, and the caution, stand in the head and the foot of one
 * table around everything, which every browser repeats on each page.
 */

import type { CSSProperties } from "react";
import { BlockShown } from "./blocks.js";
import { MARGIN, type Paper, pageOf } from "./paper.js";
import type { Sheet } from "./sheet.js";

const MM = 25.4 / 72;

interface PaperSheetProps {
  readonly sheet: Sheet;
  readonly paper: Paper;
  readonly noName: string;
}

export function PaperSheet({ sheet, paper, noName }: PaperSheetProps) {
  const { kind, title, language, landscape, identity, foot, blocks } = sheet;
  const width = pageOf(paper, landscape).width * MM - 2 * MARGIN;
  return (
    <article
      className={`paper ${kind}`}
      lang={language}
      style={{ "--text-width": `${width}mm` } as CSSProperties}
    >
      <table className="leaf" role="presentation">
        <thead>
          <tr>
            <td className="leaf-cell">
              <div className="paper-head">
                <p className="paper-title">{title}</p>
                <p className="who">
                  <bdi>{identity.name ?? noName}</bdi>{" "}
                  <span>
                    {identity.identifierName} <bdi className="strong">{identity.identifier}</bdi>
                  </span>
                </p>
                <p>{identity.place}</p>
                <p>{identity.shift}</p>
              </div>
            </td>
          </tr>
        </thead>
        <tfoot>
          <tr>
            <td className="leaf-cell">
              <div className="paper-foot">
                <p>{foot.caution}</p>
                <p>{foot.record}</p>
              </div>
            </td>
          </tr>
        </tfoot>
        <tbody>
          <tr>
            <td className="leaf-cell">
              {blocks.map((block, index) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: blocks of a sheet have no other name than their place
                <BlockShown key={index} block={block} />
              ))}
            </td>
          </tr>
        </tbody>
      </table>
    </article>
  );
}
