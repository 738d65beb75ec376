// One posterior by webppl (exact enumeration) and by bayesjs (junction tree), from exported tables.
//   node rival.mjs TABLES.json   prints {"webppl": {"posterior": [[...]], "seconds": x}, ...}
// NODE_PATH names the folder of the packages.
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { performance } from 'node:perf_hooks';

const require = createRequire(import.meta.url);
const webppl = require('webppl');
const bayesjs = require('bayesjs');

// More faults than this take minutes.
const MOST_FAULTS = { webppl: 8, bayesjs: 4 };

const tables = JSON.parse(fs.readFileSync(process.argv[2], 'utf8'));
const faults = tables.faults;
const evidence = tables.arrangements[0].evidence;
const STATES = ['absent', 'quiet', 'showing'];

const likelihood = (step, states) => {
  let total = 0;
  let below = 0;
  step.chance_of_report.forEach((chance, severity) => {
    let atMost = step.leak_at_most[severity];
    for (const fault of step.path) {
      if (states[fault] === 2) atMost *= faults[fault].at_most[step.sense][severity];
    }
    total += (atMost - below) * chance;
    below = atMost;
  });
  return total;
};

const possible = (chances) => {
  const vs = [0, 1, 2].filter((state) => chances[state] > 0);
  return { vs, ps: vs.map((state) => chances[state]) };
};

// One Infer for each fault that a step moves and one for what was heard, each drawing from the last:
// far faster than one Infer over all steps at once.
const PROGRAM = `
var table = tableOfCase;
var replaced = function(states, fault, state) {
  return mapIndexed(function(i, old) { return i === fault ? state : old; }, states);
};
var moveAll = function(dist, moves, at) {
  if (at === moves.length) { return dist; }
  var move = moves[at];
  var next = Infer({method: 'enumerate', model: function() {
    var states = sample(dist);
    var row = move.rows[states[move.fault]];
    return replaced(states, move.fault, categorical(row));
  }});
  return moveAll(next, moves, at + 1);
};
var hear = function(dist, step) {
  return Infer({method: 'enumerate', model: function() {
    var states = sample(dist);
    factor(Math.log(table.likelihood(step, states)));
    return states;
  }});
};
var start = function(dist, at) {
  if (at === table.priors.length) { return dist; }
  var next = Infer({method: 'enumerate', model: function() {
    return sample(dist).concat([categorical(table.priors[at])]);
  }});
  return start(next, at + 1);
};
var steps = function(dist, at) {
  if (at === table.steps.length) { return dist; }
  var step = table.steps[at];
  return steps(hear(moveAll(dist, step.moves, 0), step.index), at + 1);
};
steps(start(Infer({method: 'enumerate', model: function() { return []; }}), 0), 0);
`;

function marginalsOf(dist) {
  const marginals = faults.map(() => [0, 0, 0]);
  for (const states of dist.support()) {
    const chance = Math.exp(dist.score(states));
    states.forEach((state, fault) => {
      marginals[fault][state] += chance;
    });
  }
  return marginals;
}

function makeWebppl() {
  const table = {
    priors: faults.map((fault) => possible(fault.prior)),
    likelihood: (index, states) => likelihood(evidence[index], states),
    steps: evidence.map((step, index) => ({
      index,
      moves: step.transitions.map(({ fault, matrix }) => ({ fault, rows: matrix.map(possible) })),
    })),
  };
  globalThis.tableOfCase = table; // a plain object: functions called by name would be taken for its own
  let marginals;
  // Compiled once, outside the clock.
  const prepared = webppl.prepare(webppl.compile(PROGRAM), (_, dist) => {
    marginals = marginalsOf(dist);
  });
  return () => {
    marginals = undefined;
    prepared.run();
    if (!marginals) throw new Error('webppl did not end');
    return marginals;
  };
}

// A chain of states for each fault, and a node for each hearing that is a table over its path.
function networkOfCase() {
  const network = {};
  const given = {};
  const last = faults.map((fault, index) => {
    const id = `f${index}`;
    network[id] = { id, states: STATES, parents: [], cpt: cptRow(fault.prior) };
    return id;
  });
  evidence.forEach((step, index) => {
    for (const { fault, matrix } of step.transitions) {
      const id = `f${fault}t${index}`;
      network[id] = {
        id,
        states: STATES,
        parents: [last[fault]],
        cpt: matrix.map((row, from) => ({
          when: { [last[fault]]: STATES[from] },
          then: cptRow(row),
        })),
      };
      last[fault] = id;
    }
    if (step.path.length === 0) return;
    const parents = step.path.map((fault) => last[fault]);
    const cpt = [];
    for (let code = 0; code < 3 ** parents.length; code += 1) {
      const states = [];
      const when = {};
      step.path.forEach((fault, place) => {
        states[fault] = Math.floor(code / 3 ** place) % 3;
        when[parents[place]] = STATES[states[fault]];
      });
      const heard = likelihood(step, states);
      cpt.push({ when, then: { heard, other: 1 - heard } });
    }
    network[`h${index}`] = { id: `h${index}`, states: ['heard', 'other'], parents, cpt };
    given[`h${index}`] = 'heard';
  });
  return { network, given, last };
}

const cptRow = (row) => Object.fromEntries(STATES.map((state, index) => [state, row[index]]));

function runBayesjs() {
  const { network, given, last } = networkOfCase(); // new objects: it caches by identity
  return last.map((id) => STATES.map((state) => bayesjs.infer(network, { [id]: state }, given)));
}

function measured(run) {
  const posterior = run(); // also warms the compiler up
  const seconds = [];
  const begin = performance.now();
  while (seconds.length < 3 || (seconds.length < 15 && performance.now() - begin < 2000)) {
    const start = performance.now();
    run();
    seconds.push((performance.now() - start) / 1000);
  }
  seconds.sort((a, b) => a - b);
  return { posterior, seconds: seconds[Math.floor(seconds.length / 2)] };
}

const result = {};
if (faults.length <= MOST_FAULTS.webppl) result.webppl = measured(makeWebppl());
if (faults.length <= MOST_FAULTS.bayesjs) result.bayesjs = measured(runBayesjs);
console.log(JSON.stringify(result));
