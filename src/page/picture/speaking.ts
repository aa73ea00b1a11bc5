/** Shapes of the picture say what they are when they are pointed at or tapped; the same stands in words below. */

export type Say = (sentence: string) => void;

/** The handlers of a shape that says `sentence`. */
export function speaking(sentence: string, say: Say) {
  return { onPointerEnter: () => say(sentence), onClick: () => say(sentence) };
}
