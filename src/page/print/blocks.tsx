/** The blocks of a sheet as elements: real tables, headings and lists, so that they read aloud as they look. */

import { Fragment } from "react";
import { DrawingShown } from "./drawing.js";
import type { Block, Cell, Line, Run } from "./sheet.js";

export function BlockShown({ block }: { readonly block: Block }) {
  switch (block.kind) {
    case "heading":
      return <h2>{block.text}</h2>;
    case "sentences":
      return (
        <ul className="paper-lines">
          {block.lines.map((line, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines of a sheet have no other name than their place
            <li key={index}>
              <LineShown line={line} />
            </li>
          ))}
        </ul>
      );
    case "facts":
      return (
        <dl className="paper-facts">
          {block.facts.map(({ name, value }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>
                <LineShown line={value} />
              </dd>
            </div>
          ))}
        </dl>
      );
    case "table":
      return <TableShown table={block} />;
    case "drawing":
      return <DrawingShown drawing={block} />;
    case "room":
      return (
        <div className="paper-room">
          <p>{block.label}</p>
          {Array.from({ length: block.lines }, (_, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: empty lines are alike
            <div key={index} className="ruled" />
          ))}
        </div>
      );
    case "signing":
      return (
        <div className="paper-signing">
          {block.fields.map((field) => (
            <p key={field}>{field}</p>
          ))}
        </div>
      );
  }
}

function TableShown({ table }: { readonly table: Extract<Block, { kind: "table" }> }) {
  const { caption, columns, rows } = table;
  const whole = columns.reduce((sum, { share }) => sum + share, 0);
  const kind = (index: number) => columns[index]?.holds;
  return (
    <table className="paper-table">
      <caption className="unseen">{caption}</caption>
      <colgroup>
        {columns.map(({ share }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name than their place
          <col key={index} style={{ width: `${(100 * share) / whole}%` }} />
        ))}
      </colgroup>
      <thead>
        <tr>
          {columns.map(({ head }, index) =>
            head.length === 0 ? (
              // biome-ignore lint/suspicious/noArrayIndexKey: as above
              <td key={index} />
            ) : (
              // biome-ignore lint/suspicious/noArrayIndexKey: as above
              <th key={index} scope="col" className={kind(index)}>
                <CellShown cell={head} />
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: as above
          <tr key={index} className={row.sum ? "sum" : undefined}>
            {row.cells.map((cell, place) =>
              place === 0 ? (
                // biome-ignore lint/suspicious/noArrayIndexKey: as above
                <th key={place} scope="row">
                  <CellShown cell={cell} />
                </th>
              ) : (
                // biome-ignore lint/suspicious/noArrayIndexKey: as above
                <td key={place} className={kind(place)}>
                  <CellShown cell={cell} />
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function CellShown({ cell }: { readonly cell: Cell }) {
  return cell.map((line, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: lines of a cell have no other name than their place
    <div key={index}>
      <LineShown line={line} />
    </div>
  ));
}

function LineShown({ line }: { readonly line: Line }) {
  return line.map((run, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: runs of a line have no other name than their place
    <Fragment key={index}>
      <RunShown run={run} />
    </Fragment>
  ));
}

function RunShown({ run }: { readonly run: Run }) {
  const { text, strong, small, whole, basis, english } = run;
  if (!strong && !small && !whole && !basis && !english) return text;
  const className = [strong && "strong", small && "small", whole && "whole", basis && `basis ${basis}`]
    .filter(Boolean)
    .join(" ");
  return (
    <span className={className || undefined} lang={english ? "en" : undefined}>
      {text}
    </span>
  );
}
