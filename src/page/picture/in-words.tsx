/** The picture in words, for who cannot see it or wants it to the minute: per channel, then amounts, then marks. */

import { useSpeech } from "../words/language.js";
import { moment } from "../words/wall.js";
import type { Drawn } from "./picture.js";
import { amountSentence, flowSentence, gapSentence, markSentence, type Telling } from "./sentences.js";

interface Sentence {
  readonly at: number;
  readonly text: string;
}

export function InWords({ drawn, telling }: { readonly drawn: Drawn; readonly telling: Telling }) {
  const { words } = useSpeech();
  const { lanes, blocks, marks } = drawn;
  const parts = lanes.flatMap((lane) =>
    lane.channels.map((channel) => ({
      name: channel,
      line: lane.label ?? words.lines.noLine,
      sentences: [
        ...lane.bands
          .filter(({ flow }) => flow.channel === channel)
          .map(({ flow }) => ({ at: flow.start, text: flowSentence(flow, telling) })),
        ...lane.gaps
          .filter((gap) => gap.channel === channel)
          .map((gap) => ({ at: gap.start, text: gapSentence(gap, telling) })),
      ],
    })),
  );
  const amounts = blocks.map((block) => ({
    at: moment(block.interval.start),
    text: amountSentence(block, telling),
  }));
  return (
    <details className="in-words">
      <summary>{words.picture.inWords}</summary>
      {parts.map(({ name, line, sentences }) => (
        <Sentences key={`${line} ${name}`} name={name} beside={line} sentences={sentences} />
      ))}
      <Sentences name={words.picture.amounts} sentences={amounts} />
      <Sentences
        name={words.picture.recorded}
        sentences={marks.map((mark) => ({ at: mark.at, text: markSentence(mark, telling) }))}
      />
    </details>
  );
}

interface SentencesProps {
  readonly name: string;
  readonly beside?: string;
  readonly sentences: readonly Sentence[];
}

function Sentences({ name, beside, sentences }: SentencesProps) {
  if (sentences.length === 0) return null;
  return (
    <>
      <h3>
        {name} {beside !== undefined && <span className="soft">{beside}</span>}
      </h3>
      <ul className="sentences">
        {[...sentences]
          .sort((a, b) => a.at - b.at)
          .map(({ at, text }) => (
            <li key={`${at} ${text}`}>{text}</li>
          ))}
      </ul>
    </>
  );
}
