/** The group-commit queue, on transactions that write down what is done to them. */

import { expect, test } from "vitest";
import { GroupCommit, LARGEST_GROUP, type Transactions, WritesRefused } from "../../src/store/group.js";
import { type Decision, type Inquiry, StoreUnavailable } from "../../src/store/store.js";

class Outage extends Error {}

/** Transactions that record their course; `faults` are thrown where they are named, null for none. */
function recorded(
  faults: Partial<Record<"begin" | "converse" | "write" | "commit", (Error | WritesRefused | null)[]>> = {},
) {
  const course: string[] = [];
  const mayFail = (step: keyof typeof faults): void => {
    const fault = faults[step]?.shift();
    if (fault) throw fault;
  };
  const transactions: Transactions = {
    begin: () => {
      course.push("begin");
      mayFail("begin");
    },
    converse: <T>(inquiry: Inquiry<T>) => {
      mayFail("converse");
      return inquiry.next().value as T;
    },
    write: ({ answer }) => {
      course.push(`write ${answer}`);
      mayFail("write");
    },
    commit: () => {
      course.push("commit");
      mayFail("commit");
    },
    rollback: () => {
      course.push("rollback");
    },
    isOutage: (error) => error instanceof Outage,
  };
  return { course, groups: new GroupCommit(transactions) };
}

function deciding(answer: string): () => Inquiry<Decision<string>> {
  // biome-ignore lint/correctness/useYield: an inquiry that has nothing to ask
  return function* () {
    return { writes: [], answer };
  };
}

function turningAway(error: Error): () => Inquiry<Decision<string>> {
  // biome-ignore lint/correctness/useYield: an inquiry that is turned away before it asks
  return function* () {
    throw error;
  };
}

/** How each of several inquiries that waited at once ended. */
async function ends(groups: GroupCommit, ...inquiries: (() => Inquiry<Decision<string>>)[]) {
  const settled = await Promise.allSettled(inquiries.map((inquiry) => groups.transact(inquiry)));
  return settled.map((end) => (end.status === "fulfilled" ? end.value : end.reason));
}

test("those that wait at once share one commit, in the order in which they came", async () => {
  const { course, groups } = recorded();
  expect(await ends(groups, deciding("a"), deciding("b"), deciding("c"))).toEqual(["a", "b", "c"]);
  expect(course).toEqual(["begin", "write a", "write b", "write c", "commit"]);
});

test("one that is turned away fails alone; the others are committed with no second try", async () => {
  const { course, groups } = recorded();
  const away = new Error("would lose a total");
  expect(await ends(groups, deciding("a"), turningAway(away), deciding("c"))).toEqual(["a", away, "c"]);
  expect(course).toEqual(["begin", "write a", "write c", "commit"]);
});

test("one whose writes are refused fails alone, with that error; each starts anew by itself", async () => {
  const refused = new Error("constraint");
  const { course, groups } = recorded({ write: [null, refused, null, refused] });
  expect(await ends(groups, deciding("a"), deciding("b"), deciding("c"))).toEqual(["a", refused, "c"]);
  expect(course).toEqual([
    ...["begin", "write a", "write b", "rollback"],
    ...["begin", "write a", "commit"],
    ...["begin", "write b", "rollback"],
    ...["begin", "write c", "commit"],
  ]);
});

test.each(["converse", "commit"] as const)(
  "writes that are refused only at %s fail the one who decided them",
  async (step) => {
    const refused = new Error("constraint");
    const late = new WritesRefused(refused);
    // The second inquiry, or the commit, finds it out; alone, the first meets it at its own commit.
    const { groups } = recorded(
      step === "converse" ? { converse: [null, late], commit: [late] } : { commit: [late, late] },
    );
    expect(await ends(groups, deciding("a"), deciding("b"))).toEqual([refused, "b"]);
  },
);

test("a commit that fails fails everyone, also one turned away by what was then undone", async () => {
  const fault = new Outage("disk full");
  const { course, groups } = recorded({ commit: [fault] });
  const all = await ends(groups, deciding("a"), turningAway(new Error("id exists")), deciding("c"));
  for (const end of all) {
    expect(end).toBeInstanceOf(StoreUnavailable);
    expect(end.cause).toBe(fault);
  }
  expect(all).toHaveLength(3);
  expect(course.at(-1)).toBe("rollback");
});

test.each(["begin", "converse", "write"] as const)("an outage at %s fails everyone, once", async (step) => {
  const { course, groups } = recorded({ [step]: [new Outage("busy")] });
  for (const end of await ends(groups, deciding("a"), deciding("b"))) {
    expect(end).toBeInstanceOf(StoreUnavailable);
  }
  expect(course.filter((done) => done === "begin")).toHaveLength(1);
  expect(course).not.toContain("commit");
});

test("after an outage the next group is tried again", async () => {
  const { groups } = recorded({ begin: [new Outage("busy")] });
  await ends(groups, deciding("a"));
  expect(await ends(groups, deciding("b"))).toEqual(["b"]);
});

test("an outage while each starts anew spares those still waiting a wait of their own", async () => {
  const refused = new Error("constraint");
  const { course, groups } = recorded({
    write: [refused],
    begin: [null, null, new Outage("busy")],
  });
  const [a, b, c] = await ends(groups, deciding("a"), deciding("b"), deciding("c"));
  expect(a).toBe("a");
  expect([b, c].every((end) => end instanceof StoreUnavailable)).toBe(true);
  expect(course.filter((done) => done === "begin")).toHaveLength(3);
});

test("a crowd is divided into groups of bounded size", async () => {
  const { course, groups } = recorded();
  await ends(groups, ...Array.from({ length: LARGEST_GROUP + 1 }, (_, index) => deciding(`${index}`)));
  expect(course.indexOf("commit")).toBe(1 + LARGEST_GROUP);
  expect(course.filter((done) => done === "commit")).toHaveLength(2);
});

test("closing carries out what waits and turns away what comes after", async () => {
  const { course, groups } = recorded();
  const waiting = groups.transact(deciding("a"));
  groups.close();
  expect(course).toEqual(["begin", "write a", "commit"]);
  expect(await waiting).toBe("a");
  await expect(groups.transact(deciding("b"))).rejects.toBeInstanceOf(StoreUnavailable);
});
