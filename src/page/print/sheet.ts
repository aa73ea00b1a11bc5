/**
 * What is printed of a shift, before it is known on what: lines of text and tables, put together from the API's
 * answers and the words of a language. The print view and the PDF show the same sheet, each in its own way.
 */

import type { Basis } from "../api/shapes.js";

/** A piece of a line. */
export interface Run {
  readonly text: string;
  readonly strong?: boolean;
  /** Beside or above a figure: how sure it is, of which hour. */
  readonly small?: boolean;
  /** Never parted over two lines. */
  readonly whole?: boolean;
  /** What a figure rests on, shown by the stroke under it. */
  readonly basis?: Basis | null;
  /** A sentence of the service, which speaks English whatever the sheet's language is. */
  readonly english?: boolean;
}

export type Line = readonly Run[];

/** Lines one above the other; none is a cell left to write in. */
export type Cell = readonly Line[];

export interface Column {
  readonly head: Cell;
  /** Its share of the width, beside those of the other columns. */
  readonly share: number;
  /** Values stand in the middle of their column, hours besides on one line with the others of their row. */
  readonly holds: "text" | "value" | "hour";
}

export interface Row {
  /** The first names the row. */
  readonly cells: readonly Cell[];
  readonly sum: boolean;
}

export type Block =
  /** Begins a section: it never stands at the foot of a page by itself. */
  | { readonly kind: "heading"; readonly text: string }
  | { readonly kind: "sentences"; readonly lines: readonly Line[] }
  | { readonly kind: "facts"; readonly facts: readonly Fact[] }
  /** Its head stands on every page that it reaches, and no row is torn. */
  | {
      readonly kind: "table";
      readonly caption: string;
      readonly columns: readonly Column[];
      readonly rows: readonly Row[];
    }
  /** Across the whole width; the lengths of its shapes are shares of `width`. */
  | {
      readonly kind: "drawing";
      /** What it shows, for who cannot see it. */
      readonly label: string;
      readonly width: number;
      readonly height: number;
      readonly shapes: readonly Shape[];
    }
  /** Ruled lines for what is written by hand. */
  | { readonly kind: "room"; readonly label: string; readonly lines: number }
  /** A line each to sign on. */
  | { readonly kind: "signing"; readonly fields: readonly string[] };

/** In black on white: an area that is filled or an outline, a line through points, a text on its base line. */
export type Shape =
  | {
      readonly kind: "area";
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly filled: boolean;
    }
  | {
      readonly kind: "line";
      readonly points: readonly (readonly [x: number, y: number])[];
      readonly thick: number;
      /** Behind what is drawn, such as the hours. */
      readonly faint: boolean;
    }
  | {
      readonly kind: "text";
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly middle: boolean;
    };

export interface Fact {
  readonly name: string;
  readonly value: Line;
}

/** Who and when: stands at the head of every page. */
export interface Identity {
  /** As recorded; null where no name is. */
  readonly name: string | null;
  readonly identifier: string;
  /** What the identifier is called. */
  readonly identifierName: string;
  /** "Bed 4, Ward 5". */
  readonly place: string;
  /** The shift with its date, hours and offset. */
  readonly shift: string;
}

/** What stands at the foot of every page, the page's number beside it. */
export interface Foot {
  readonly caution: string;
  /** Up to which entry the sheet knows, and the digest of that entry. */
  readonly record: string;
}

export type PrintKind = "handover" | "chart";

export interface Sheet {
  readonly kind: PrintKind;
  readonly title: string;
  /** A language tag. */
  readonly language: string;
  /** Hours side by side need the long side of the paper. */
  readonly landscape: boolean;
  readonly identity: Identity;
  readonly foot: Foot;
  readonly blocks: readonly Block[];
}

/** A line of one piece. */
export function line(text: string, how: Omit<Run, "text"> = {}): Line {
  return [{ text, ...how }];
}

/** A cell of one line. */
export function cell(text: string, how: Omit<Run, "text"> = {}): Cell {
  return [line(text, how)];
}

export function heading(text: string): Block {
  return { kind: "heading", text };
}

/** A section, or nothing at all where it has no sentence. */
export function section(text: string, lines: readonly Line[]): Block[] {
  return lines.length === 0 ? [] : [heading(text), { kind: "sentences", lines }];
}
