/** A net was charted with its sign turned: what went in and what came out taken off the wrong way round. */

import { entriesOf } from "../figure.js";
import { saidFigure } from "../said.js";
import { type FindSlips, oneEffect } from "../slip.js";
import { isNear } from "../way.js";

export const signTurned: FindSlips = function* ({ figure }) {
  const right = figure.charted - figure.difference;
  // The same digits the other way round are no chance.
  if (figure.side !== "net" || right === 0 || !isNear(figure.charted, -right, figure)) return;
  yield {
    kind: "sign-turned",
    items: [],
    besides: entriesOf(figure),
    effects: oneEffect(figure, -2 * right),
    rarity: 6,
    certain: true,
    tell: (words) =>
      `${saidFigure(figure, words)} is charted as ${words.volume(figure.charted)} and comes to ${words.volume(right)}: its ` +
      "sign is turned; the net is intake less output. Correct the sign.",
  };
};
