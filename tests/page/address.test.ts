/** What is chosen stands in the address; the token only ever passes through its fragment. */

import { describe, expect, it } from "vitest";
import { addressOf, type Choice, choiceIn, NOTHING } from "../../src/page/address.js";
import { tokenInFragment } from "../../src/page/api/token.js";

describe("the address of a sheet", () => {
  it("names the stay and the shift legibly", () => {
    expect(addressOf({ ...NOTHING, encounter: "bed-4", shift: "2026-03-04/day" })).toBe(
      "?encounter=bed-4&shift=2026-03-04/day",
    );
  });

  it("names the moment as of which it is shown, and a view that there is", () => {
    const choice = choiceIn("?encounter=bed-4&view=findings&as-of=2026-03-04T18:46:00%2B01:00");
    expect(choice).toMatchObject({ view: "findings", asOf: "2026-03-04T18:46:00+01:00" });
    expect(addressOf(choice)).toBe("?encounter=bed-4&view=findings&as-of=2026-03-04T18:46:00%2B01:00");
    expect(choiceIn("?view=nothing-of-the-kind").view).toBeNull();
  });

  it("is bare when nothing is chosen", () => {
    expect(addressOf(NOTHING)).toBe("");
    expect(choiceIn("")).toEqual(NOTHING);
  });

  it("comes back as the same choice, whatever the names hold", () => {
    const choice: Choice = {
      ...NOTHING,
      unit: "5 & 6",
      discharged: true,
      encounter: "a=b",
      shift: "2026-03-04/day %2F",
      view: "changes",
      asOf: "2026-03-04T18:46:00-06:00",
      since: "12",
      entry: "1-0500-urine",
    };
    expect(choiceIn(addressOf(choice))).toEqual(choice);
  });

  it("names what is printed and on which paper, and nothing that there is not", () => {
    const choice = { ...NOTHING, encounter: "a", print: "chart", paper: "letter" } as const;
    expect(addressOf(choice)).toBe("?encounter=a&print=chart&paper=letter");
    expect(choiceIn(addressOf(choice))).toEqual(choice);
    expect(choiceIn("?print=wall&paper=vellum")).toEqual(NOTHING);
  });
});

describe("a token in the fragment", () => {
  it("is found and trimmed", () => {
    expect(tokenInFragment("#token=abc.DEF-1_2")).toBe("abc.DEF-1_2");
    expect(tokenInFragment("#token=%20abc%20")).toBe("abc");
  });

  it("is not found where there is none", () => {
    expect(tokenInFragment("")).toBeNull();
    expect(tokenInFragment("#token=")).toBeNull();
    expect(tokenInFragment("#hours")).toBeNull();
  });
});
