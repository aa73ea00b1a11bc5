/**
 * Whether something taken in is ice, by the words people chart it with: "Ice chips (cup)", "crushed  ice". Ice in a
 * drink is not: nobody says how much of it was ice. Nor is what only has ice in its name, such as ice cream.
 */

/** What ice is broken into, and how. */
const BROKEN =
  /^(?:chip|cube|chunk|flake|nugget|pellet|piece|shaving)s?$|^(?:chipped|cracked|crushed|flaked|shaved)$/;
/** What says how much of it there was, or nothing. */
const AMOUNT =
  /^(?:a|an|of|in|small|large|half|full|(?:cup|glass|bowl|scoop|spoon|teaspoon|tablespoon)(?:s|ful|fuls)?|ml)$/;
/** What makes it something else. */
const OTHER = /^(?:and|with|plus|over|on|cream|coffee|drink|juice|lolly|milk|pop|tea|water)$/;

export function isIce(item: string): boolean {
  const words: readonly string[] = item.toLowerCase().match(/\p{L}+/gu) ?? [];
  if (!words.includes("ice") || words.some((word) => OTHER.test(word))) return false;
  return (
    words.some((word) => BROKEN.test(word)) || words.every((word) => word === "ice" || AMOUNT.test(word))
  );
}
