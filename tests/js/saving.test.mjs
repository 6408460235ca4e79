import assert from "node:assert/strict";
import { test } from "node:test";

import { outcomeOf } from "../../static/js/shared/answers.js";
import { draftIn, draftNotice } from "../../static/js/shared/draft.js";
import { grouped, lookOf, nameOf, newRef, roleOf } from "../../static/js/shared/kinds.js";

const ANSWERS = [
  ["a stored drawing", [200, { number: 4 }], "done"],
  ["faults", [422, { faults: [{ message: "x" }] }], "faulty"],
  ["a conflict", [409, { message: "Changed." }], "outdated"],
  ["a sign-in page reached by redirect", [200, null, true], "signed-out"],
  ["a refused token", [403, null], "signed-out"],
  ["no sign-in", [401, { message: "Sign in." }], "signed-out"],
  ["no network", [0, null], "failed"],
  ["a broken server", [500, null], "failed"],
  ["a page where figures were expected", [200, null], "failed"],
];

for (const [name, answer, is] of ANSWERS) {
  test(`${name} counts as ${is}`, () => {
    const outcome = outcomeOf(...answer);

    assert.equal(outcome.is, is);
    if (is !== "done") assert.match(outcome.message, /kept on this device/);
  });
}

class Memory {
  items = new Map();
  getItem = (key) => this.items.get(key) ?? null;
  setItem = (key, text) => this.items.set(key, text);
  removeItem = (key) => this.items.delete(key);
}
const draft = { base: 3, at: "2026-05-02T10:32:00", collection: { features: [] }, why: "new bed" };

test("a draft comes back as it was kept, until it is cleared", () => {
  const drafts = draftIn(new Memory(), "draft:7:12");

  assert.equal(drafts.write(draft), true);
  assert.deepEqual(drafts.read(), draft);
  drafts.clear();
  assert.equal(drafts.read(), null);
});

test("a draft that is not a drawing is passed over", () => {
  const memory = new Memory();
  for (const text of ["", "{", "[]", '{"at": "never", "collection": {"features": []}}']) {
    memory.setItem("k", text);
    assert.equal(draftIn(memory, "k").read(), null);
  }
});

test("a browser that keeps nothing does not stop the drawing", () => {
  const full = { getItem: () => { throw new Error("blocked"); }, setItem: () => { throw new Error("full"); } };

  assert.equal(draftIn(full, "k").write(draft), false);
  assert.equal(draftIn(full, "k").read(), null);
  assert.equal(draftIn(null, "k").write(draft), false);
});

test("the notice tells the hour today and the day otherwise", () => {
  assert.match(draftNotice(draft, 3, new Date("2026-05-02T11:00:00")), /from 10:32 that is not saved/);
  assert.match(draftNotice(draft, 3, new Date("2026-05-04T11:00:00")), /from May 2, 2026, 10:32/);
});

test("the notice warns when the saved drawing has moved on", () => {
  const now = new Date("2026-05-02T11:00:00");

  assert.doesNotMatch(draftNotice(draft, 3, now), /begun on/);
  assert.match(draftNotice(draft, 5, now), /begun on drawing 3; the saved one is now drawing 5/);
});

const KINDS = [
  { token: "pond", role: "protected", name: "Pond" },
  { token: "turf", role: "turf", name: "Turf" },
];

test("kinds are grouped by what they mean for spraying", () => {
  assert.deepEqual(
    grouped(KINDS).map((group) => [group.title, group.kinds.map((kind) => kind.token)]),
    [["Turf", ["turf"]], ["Protect", ["pond"]]],
  );
});

test("a pool looks like water and is in the way; a pond is protected", () => {
  assert.deepEqual([lookOf("pool"), roleOf("pool")], ["water", "obstacle"]);
  assert.deepEqual([lookOf("pond"), roleOf("pond")], ["water", "protected"]);
});

test("a kind nobody knows yet is protected and looks like it", () => {
  assert.deepEqual([lookOf("bat_roost"), roleOf("bat_roost")], ["people", "protected"]);
});

test("a shape without a name is called by its kind", () => {
  assert.equal(nameOf({ properties: { kind: "pond", name: "Koi" } }, KINDS), "Koi");
  assert.equal(nameOf({ properties: { kind: "pond" } }, KINDS), "Pond");
  assert.equal(nameOf({ properties: { kind: "storm_drain" } }), "Storm drain");
});

test("new ids name their kind and do not repeat", () => {
  const made = new Set(Array.from({ length: 500 }, () => newRef("pond")));

  assert.equal(made.size, 500);
  assert.match([...made][0], /^pond-[0-9a-z]{6}$/);
});
