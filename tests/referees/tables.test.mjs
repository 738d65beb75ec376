// The tables say of each move what it will do, and of each slice what was done: the same numbers.
import assert from 'node:assert/strict';
import test from 'node:test';
import { kCases, tables_of } from './tables.mjs';

// What was cut: the faults, to the ten likeliest on the route, for shorter answers only.
const kFaults = 10;
const kIdentity = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];

function matrices(transitions, otherwise) {
  const found = [...otherwise];
  for (const { fault, matrix } of transitions) found[fault] = matrix;
  return found;
}

for (const one of kCases) {
  test(`${one.name}: each move does what the tables said before it`, () => {
    let moves = 0;
    for (let done = 0; done < one.done.length; ++done) {
      const before = tables_of({ ...one, done: one.done.slice(0, done) }, kFaults);
      const after = tables_of({ ...one, done: one.done.slice(0, done + 1) }, kFaults);
      assert.deepEqual(after.faults.map(({ name }) => name), before.faults.map(({ name }) => name));
      const identities = before.faults.map(() => kIdentity);
      const resting = before.faults.map(({ left_alone }) => left_alone);
      before.arrangements.forEach((arrangement, at) => {
        const said = arrangement.moves.find(({ move }) => move === one.done[done].move);
        const did = after.arrangements[at].evidence.at(-1);
        assert.equal(did.sense, said.sense);
        assert.deepEqual(did.path, said.path);
        assert.deepEqual(did.leak_at_most, said.leak_at_most);
        assert.deepEqual(
          matrices(did.transitions, identities),
          matrices(said.transitions, resting),
        );
        ++moves;
      });
    }
    assert.equal(moves, one.done.length * one.arrangements);
  });
}
