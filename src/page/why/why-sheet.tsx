/** The sheet that says why a figure is what it is: the figure large, then what it is made of. */

import type { Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import type { Asked } from "../shift/asked.js";
import { Sheet } from "../ui/sheet.js";
import { type Speech, useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { CategoryWhy } from "./category.js";
import { ExpectedWhy } from "./expected.js";
import { ExplainedWhy } from "./explained.js";
import { CumulativeWhy, NetWhy, SumWhy } from "./sums.js";

interface WhySheetProps {
  readonly asked: Asked;
  readonly stay: Stay;
  readonly sheet: ShiftSheet;
  readonly close: () => void;
}

export function WhySheet({ asked, stay, sheet, close }: WhySheetProps) {
  const speech = useSpeech();
  const value = asked.of === "expected" ? asked.total.expected : asked.value;
  const sure = asked.of === "expected" ? "" : speech.words.certainty[asked.certainty ?? "exact"];
  return (
    <Sheet title={titleOf(asked, sheet, speech)} close={close}>
      <p className="why-figure">
        {sure} <strong>{asked.of === "expected" ? speech.tenths(value) : speech.figure(value)}</strong> mL
      </p>
      <Why asked={asked} stay={stay} sheet={sheet} />
    </Sheet>
  );
}

function Why({ asked, stay, sheet }: Omit<WhySheetProps, "close">) {
  switch (asked.of) {
    case "volume":
      return <ExplainedWhy asked={asked} encounter={stay.id} sheet={sheet} />;
    case "category":
      return <CategoryWhy asked={asked} stay={stay} sheet={sheet} />;
    case "sum":
      return <SumWhy asked={asked} />;
    case "net":
      return <NetWhy asked={asked} />;
    case "cumulative":
      return <CumulativeWhy asked={asked} sheet={sheet} />;
    case "expected":
      return <ExpectedWhy asked={asked} at={sheet.shift.totals.at} />;
    default:
      return asked satisfies never;
  }
}

function titleOf(asked: Asked, { shift }: ShiftSheet, { words, clockSeenFrom }: Speech): string {
  if (asked.of === "expected") {
    const { channel, total } = asked;
    return `${channel.channel}, ${words.toWrite.totals[total.total]}, ${clock(shift.totals.at)}`;
  }
  const { name, from, to } = asked;
  return `${name}, ${clockSeenFrom(from, to)}–${clock(to)}`;
}
