// bayesjs, a general library of Bayes networks, gets the tables as one network: a node for each
// fault and each step that moves it, for each hearing a node for the worst severity, whose parents
// are the faults on the path, and a two-valued node for the report. (A node for each fault's own
// severity made the library ten times slower; webppl draws every severity by itself.)
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import test from 'node:test';
import { chances, compare, installations, kCases, tables_of } from './tables.mjs';

// infer asks the junction tree for one node: a question over several nodes is answered wrongly
// there, and inferAll rounds to 8 decimals.
const { infer } = createRequire(import.meta.url)('bayesjs');

// What was cut: of the faults of an installation only the likeliest on the route stay. The
// library's junction tree holds the states of all faults at several steps at once, so each further
// fault costs about ten times as long: three faults, and four in the cases that take seconds with
// them.
const kWithFour = [
  'two-room booth, wrong side',
  'screening set, wrong side',
  'small stage, wrong channel',
];
const faults_kept = (one) => (kWithFour.includes(one.name) ? 4 : 3);

const kStates = ['absent', 'quiet', 'showing'];
const row = (names, numbers) => Object.fromEntries(names.map((name, at) => [name, numbers[at]]));

class Net {
  nodes = {};

  root(id, states, numbers) {
    this.nodes[id] = { id, states, parents: [], cpt: row(states, numbers) };
    return id;
  }

  /// `numbers_of` gets the place of each parent's state among its states.
  child(id, states, parents, numbers_of) {
    let places = [[]];
    for (const parent of parents) {
      const count = this.nodes[parent].states.length;
      places = places.flatMap((head) => Array.from({ length: count }, (_, at) => [...head, at]));
    }
    const cpt = places.map((at) => ({
      when: row(
        parents,
        parents.map((parent, i) => this.nodes[parent].states[at[i]]),
      ),
      then: row(states, numbers_of(...at)),
    }));
    this.nodes[id] = { id, states, parents, cpt: parents.length > 0 ? cpt : cpt[0].then };
    return id;
  }
}

/// Neighbouring severities with the same chance of the report are one, named by the worst of them:
/// the maximum keeps the order, and each table has fewer rows.
const last_of_each = (report) =>
  report.map((_, severity) => severity).filter((s) => report[s] !== report[s + 1]);

/// Chances of the worst of what the showing faults sound like and of the leak. They are drawn apart
/// from each other, so that the chance of all being at most s is a product.
function worst_of(tables, slice, last, showing) {
  const all_at_most = (severity) =>
    showing.reduce(
      (product, fault) => product * tables.faults[fault].at_most[slice.sense][severity],
      slice.leak_at_most[severity],
    );
  return chances(last.map(all_at_most));
}

/// The network, the node of each fault after the last step, and the report nodes in order.
function network_of(tables, arrangement) {
  const net = new Net();
  const now = tables.faults.map(({ prior }, f) => net.root(`fault ${f} at first`, kStates, prior));
  const reports = [];
  arrangement.evidence.forEach((slice, step) => {
    for (const { fault, matrix } of slice.transitions) {
      const id = `fault ${fault} after ${step}`;
      now[fault] = net.child(id, kStates, [now[fault]], (from) => matrix[from]);
    }
    if (slice.chance_of_report.every((chance) => chance === 1)) return;  // tells nothing
    const last = last_of_each(slice.chance_of_report);
    const names = last.map((severity) => `severity to ${severity}`);
    const heard = slice.path.map((fault) => now[fault]);
    const worst = net.child(`worst ${step}`, names, heard, (...states) =>
      worst_of(
        tables,
        slice,
        last,
        slice.path.filter((_, at) => kStates[states[at]] === 'showing'),
      ),
    );
    reports.push(
      net.child(`report ${step}`, ['this', 'another'], [worst], (at) => [
        slice.chance_of_report[last[at]],
        1 - slice.chance_of_report[last[at]],
      ]),
    );
  });
  return { nodes: net.nodes, now, reports };
}

function referee(tables, arrangement) {
  const { nodes, now, reports } = network_of(tables, arrangement);
  // P(all reports) = the product of P(a report, given those before it).
  let log_evidence = 0;
  let given = {};
  for (const report of reports) {
    const chance = infer(nodes, { [report]: 'this' }, given);
    if (chance === 0) {
      log_evidence = -Infinity;
      given = {};
      break;
    }
    log_evidence += Math.log(chance);
    given = { ...given, [report]: 'this' };  // a new object: the library caches by identity
  }
  const posterior = now.map((node) =>
    kStates.map((state) => infer(nodes, { [node]: state }, given)),
  );
  return { log_evidence, posterior };
}

test('every shipped installation has a case', () => {
  const models = [...new Set(kCases.map((one) => one.model))].sort();
  assert.deepEqual(models, installations());
  assert.equal(kCases.filter((one) => faults_kept(one) === 4).length, kWithFour.length);
});

for (const one of kCases) {
  const kept = faults_kept(one);
  test(`${one.name}: ${kept} faults in every arrangement`, () => {
    const tables = tables_of(one, kept);
    let numbers = 0;
    for (const arrangement of tables.arrangements) {
      numbers += compare(arrangement, referee(tables, arrangement));
    }
    assert.equal(numbers, one.arrangements * (1 + 3 * kept));
  });
}
