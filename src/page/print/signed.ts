/** How the shift is signed, by whom, over which figures. */

import { type Block, type Line, line, section } from "./sheet.js";
import { type Source, stamp, whenOf } from "./source.js";

export function signaturesOf(source: Source): Block[] {
  const { sheet, speech, words } = source;
  const { state, signatures } = sheet.shift;
  const changed = signatures.reduce((count, { differences }) => count + differences.length, 0);
  return section(words.signature, [
    line(`${speech.words.shift.states[state]}.`, { strong: true }),
    ...(changed === 0 ? [] : [line(words.changed(changed))]),
    ...signatures.flatMap((one): Line[] => {
      const { by, signedAt, from, to, remark, digest } = one;
      const said = words.signed(by.name, stamp(signedAt), whenOf(source, from), whenOf(source, to));
      return [
        line(`${said}: ${words.signatureStates[one.state]}.`),
        ...(remark === undefined ? [] : [line(words.remark(remark))]),
        line(words.digest(digest), { small: true }),
      ];
    }),
  ]);
}
