// bayesjs, a general library of Bayes networks, gets the tables as one network: a node for each
// fault and step that moves it, a node for how bad each showing fault sounds, a chain of nodes for
// the worst of them, and a two-valued node for each report.
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import test from 'node:test';
import { chances, compare, installations, kCases, tables_of } from './tables.mjs';

// infer asks the junction tree for one node: a question over several nodes is answered wrongly
// there, and inferAll rounds to 8 decimals.
const { infer } = createRequire(import.meta.url)('bayesjs');

// What was cut: of the 30 to 150 faults of an installation only the likeliest on the route stay.
// The library's junction tree holds the joint states of all faults at once, and grows from seconds
// at five faults to minutes at six.
const kFaults = 4;

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
      when: Object.fromEntries(parents.map((parent, i) => [parent, this.nodes[parent].states[at[i]]])),
      then: row(states, numbers_of(...at)),
    }));
    this.nodes[id] = { id, states, parents, cpt };
    return id;
  }
}

const one_at = (length, place) => Array.from({ length }, (_, at) => (at === place ? 1 : 0));

/// Neighbouring severities with the same chance of the report are one, named by the worst of them:
/// the maximum keeps the order, and each table has fewer rows.
const last_of_each = (report) =>
  report.map((_, severity) => severity).filter((s) => report[s] !== report[s + 1]);

/// The network, the node of each fault after the last step, and the report nodes in order.
function network_of(tables, arrangement) {
  const net = new Net();
  const now = tables.faults.map((fault, f) => net.root(`fault ${f} at first`, kStates, fault.prior));
  const reports = [];
  arrangement.evidence.forEach((slice, step) => {
    for (const { fault, matrix } of slice.transitions) {
      const id = `fault ${fault} after ${step}`;
      now[fault] = net.child(id, kStates, [now[fault]], (from) => matrix[from]);
    }
    if (slice.chance_of_report.every((chance) => chance === 1)) return;  // tells nothing
    const last = last_of_each(slice.chance_of_report);
    const names = last.map((severity) => `severity to ${severity}`);
    const merged = (at_most) => chances(last.map((severity) => at_most[severity]));
    let worst = net.root(`leak ${step}`, names, merged(slice.leak_at_most));
    for (const fault of slice.path) {
      const drawn = merged(tables.faults[fault].at_most[slice.sense]);
      const sound = net.child(`sound ${fault} in ${step}`, names, [now[fault]], (state) =>
        kStates[state] === 'showing' ? drawn : one_at(names.length, 0),
      );
      worst = net.child(`worst to ${fault} in ${step}`, names, [worst, sound], (a, b) =>
        one_at(names.length, Math.max(a, b)),
      );
    }
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
