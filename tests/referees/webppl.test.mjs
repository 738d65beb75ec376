// webppl, a general probabilistic language, enumerates every state that the tables allow.
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import test from 'node:test';
import { chances, compare, installations, kCases, tables_of } from './tables.mjs';

const webppl = createRequire(import.meta.url)('webppl');

// What was cut: of the faults of an installation only the likeliest on the route stay,
// since the joint states are 3^faults: 729 and 6561. Six are few enough for every arrangement. With
// more heard faults the program reckons in its other way (signed sums) where that costs less, so each
// installation also has a case with eight, in the first arrangement that the evidence allows.
const kFaults = 6;
const kMoreFaults = 8;
const kWithMoreFaults = [
  'two-room booth, direct connection',
  'single room, substitution',
  'screening set, substitution',
  'small stage, direct connection',
];

// One Infer for each step and fault, so that no enumeration multiplies all steps. A joint state is
// a text of digits, one for each fault. `method` is always given: without it webppl samples after
// some seconds. P(report) is the expectation of its chance over the joint states before it.
const kProgram = `
var enumerated = function(model) { return Infer({method: 'enumerate', model: model}) }

var put = function(joint, fault, state) {
  return joint.slice(0, fault) + state + joint.slice(fault + 1)
}

var prior = function(belief, fault) {
  return fault === question.priors.length ? belief : prior(enumerated(function() {
    return sample(belief) + categorical({ps: question.priors[fault], vs: ['0', '1', '2']})
  }), fault + 1)
}

var moved = function(belief, transitions) {
  return reduce(function(transition, before) {
    return enumerated(function() {
      var joint = sample(before)
      var from = joint.charAt(transition.fault)
      var to = categorical({ps: transition.matrix[from], vs: ['0', '1', '2']})
      return put(joint, transition.fault, to)
    })
  }, belief, transitions)
}

// Distribution of the worst severity, by which faults of the path show ('1' for showing).
var worst = cache(function(step, showing) {
  var hearing = question.slices[step].hearing
  return reduce(function(index, before) {
    return showing.charAt(index) === '0' ? before : enumerated(function() {
      return Math.max(sample(before), discrete({ps: hearing.severities[index]}))
    })
  }, enumerated(function() { return discrete({ps: hearing.leak}) }), _.range(showing.length))
})

var chanceOfReport = cache(function(step, showing) {
  return expectation(worst(step, showing), function(severity) {
    return question.slices[step].hearing.report[severity]
  })
})

var heard = function(belief, step) {
  var chance = function(joint) {
    return chanceOfReport(step, map(function(fault) {
      return joint.charAt(fault) === '2' ? '1' : '0'
    }, question.slices[step].hearing.path).join(''))
  }
  var evidence = expectation(belief, chance)
  return {
    evidence: evidence,
    belief: evidence === 0 ? belief : enumerated(function() {
      var joint = sample(belief)
      factor(Math.log(chance(joint)))
      return joint
    })
  }
}

var follow = function(belief, step, log) {
  if (step === question.slices.length) { return {belief: belief, log: log} }
  var after = moved(belief, question.slices[step].transitions)
  // Reports that cannot be leave the prior moved on, so there is nothing to condition on.
  if (question.silent) { return follow(after, step + 1, log) }
  var report = heard(after, step)
  if (report.evidence === 0) { return {belief: after, log: -Infinity} }
  return follow(report.belief, step + 1, log + Math.log(report.evidence))
}

var answer = follow(prior(Delta({v: ''}), 0), 0, 0)
var marginals = map(function(fault) {
  var one = enumerated(function() { return sample(answer.belief).charAt(fault) })
  return map(function(state) { return Math.exp(one.score(state)) }, ['0', '1', '2'])
}, _.range(question.priors.length));
({log: answer.log, marginals: marginals})
`;

const compiled = webppl.compile(kProgram);

// webppl reads its data from a global object and answers later; questions come one at a time.
function ask(question) {
  globalThis.question = question;
  return new Promise((resolve, reject) => {
    const errorHandlers = [(error) => reject(new Error(`webppl: ${error.message}`))];
    webppl.prepare(compiled, (_, answer) => resolve(answer), { errorHandlers }).run();
  });
}

async function referee(tables, arrangement) {
  const slices = arrangement.evidence.map((slice) => ({
    transitions: slice.transitions,
    hearing: {
      path: slice.path,
      severities: slice.path.map((fault) => chances(tables.faults[fault].at_most[slice.sense])),
      leak: chances(slice.leak_at_most),
      report: slice.chance_of_report,
    },
  }));
  const priors = tables.faults.map((fault) => fault.prior);
  const answer = await ask({ priors, slices, silent: false });
  const impossible = answer.log === -Infinity;
  return {
    log_evidence: answer.log,
    posterior: (impossible ? await ask({ priors, slices, silent: true }) : answer).marginals,
  };
}

test('every shipped installation has a case', () => {
  const models = [...new Set(kCases.map((one) => one.model))].sort();
  assert.deepEqual(models, installations());
  const more = kCases.filter((one) => kWithMoreFaults.includes(one.name));
  assert.deepEqual(more.map((one) => one.model).sort(), installations());
});

for (const one of kCases) {
  test(`${one.name}: ${kFaults} faults in every arrangement`, async () => {
    const tables = tables_of(one, kFaults);
    let numbers = 0;
    for (const arrangement of tables.arrangements) {
      numbers += compare(arrangement, await referee(tables, arrangement));
    }
    assert.equal(numbers, one.arrangements * (1 + 3 * kFaults));
  });
}

for (const one of kCases.filter(({ name }) => kWithMoreFaults.includes(name))) {
  test(`${one.name}: ${kMoreFaults} faults`, async () => {
    const tables = tables_of(one, kMoreFaults);
    const allowed = tables.arrangements.find(({ log_evidence }) => log_evidence !== null);
    const heard = new Set(allowed.evidence.flatMap(({ path }) => path));
    assert.equal(heard.size, kMoreFaults, 'heard faults');
    assert.equal(compare(allowed, await referee(tables, allowed)), 1 + 3 * kMoreFaults);
  });
}
