// What the referees share: cases for the shipped installations, and the tables that the program
// writes for them. docs/formats.md, "Tables", says what every key means; nothing else is used.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const kTolerance = 1e-9;

// Invented evidence. Each installation has a case with a listen, a stress, a treatment, a changed
// signal path and, where it has one, a measurement; and a case in which the sound was elsewhere,
// so that straight plugs are impossible and each crossed arrangement is not.
export const kCases = [
  {
    name: 'two-room booth, direct connection',
    model: 'two-room-booth',
    arrangements: 5,
    complaint: { route: 'left phone', heard: 'drops out' },
    done: [
      { move: 'listen', heard: 'crackle' },
      { move: 'flex headset cord.cord', heard: 'weak', 'drop db': 30 },
      { move: 'push home headset cord.left plug', heard: 'drops out' },
      { move: 'connect headset cord.left plug into left jack', heard: 'steady' },
      { move: 'measure headset cord', heard: 'jumps' },
    ],
  },
  {
    name: 'two-room booth, wrong side',
    model: 'two-room-booth',
    arrangements: 5,
    complaint: { route: 'left phone', heard: 'wrong side' },
    done: [
      { move: 'twist headset cord.left plug', heard: 'wrong side' },
      {
        move: 'cross left patch cord.near plug with right patch cord.near plug',
        heard: 'drops out',
      },
      { move: 'try left insert', heard: 'steady' },
    ],
  },
  {
    name: 'single room, substitution',
    model: 'single-room',
    arrangements: 3,
    complaint: { route: 'left phone', heard: 'drops out' },
    done: [
      { move: 'listen', heard: 'crackle' },
      { move: 'flex headset cord.cord', heard: 'not sure' },
      { move: 'push home headset cord.left plug', heard: 'crackle' },
      { move: 'measure headset cord', heard: 'sound' },
      { move: 'substitute spare headset cord for headset cord', heard: 'steady' },
    ],
  },
  {
    name: 'single room, wrong side',
    model: 'single-room',
    arrangements: 3,
    complaint: { route: 'left phone', heard: 'wrong side' },
    done: [
      { move: 'stress all', heard: 'wrong side' },
      { move: 'cross headset cord.left pins with headset cord.right pins', heard: 'crackle' },
      { move: 'listen', heard: 'steady' },
    ],
  },
  {
    name: 'screening set, response button',
    model: 'screening-set',
    arrangements: 1,
    complaint: { route: 'button', heard: 'misses' },
    done: [
      { move: 'listen', heard: 'follows' },
      { move: 'flex response button.cord', heard: 'dead' },
      { move: 'clean response button.plug', heard: 'misses' },
      { move: 'measure response button', heard: 'jumps' },
    ],
  },
  {
    name: 'screening set, substitution',
    model: 'screening-set',
    arrangements: 3,
    complaint: { route: 'left phone', heard: 'crackle' },
    done: [
      { move: 'slide headset cord.cord', heard: 'drops out' },
      { move: 'clean headset cord.left plug', heard: 'crackle' },
      { move: 'substitute right earphone for left earphone', heard: 'weak', 'drop db': 15 },
    ],
  },
  {
    name: 'screening set, wrong side',
    model: 'screening-set',
    arrangements: 3,
    complaint: { route: 'left phone', heard: 'wrong side' },
    done: [
      { move: 'slide headset cord.cord', heard: 'wrong side' },
      { move: 'cross headset cord.left pins with headset cord.right pins', heard: 'steady' },
      { move: 'measure right earphone', heard: 'sound' },
    ],
  },
  {
    name: 'small stage, direct connection',
    model: 'small-stage',
    arrangements: 6,
    complaint: { route: 'left vocal', heard: 'cuts' },
    done: [
      { move: 'bend left vocal cord.wire', heard: 'low', 'drop db': 20 },
      { move: 'seat left vocal cord.plug end', heard: 'cuts' },
      { move: 'measure left vocal cord', heard: 'flickers' },
      { move: 'connect left vocal cord.plug end into input one', heard: 'clean' },
    ],
  },
  {
    name: 'small stage, wrong channel',
    model: 'small-stage',
    arrangements: 6,
    complaint: { route: 'left vocal', heard: 'wrong channel' },
    done: [
      { move: 'wiggle left vocal microphone.pins', heard: 'wrong channel' },
      { move: 'substitute spare cord for left vocal cord', heard: 'wrong channel' },
      { move: 'listen', heard: 'scratchy' },
    ],
  },
];

const quoted = (value) => (typeof value === 'string' ? JSON.stringify(value) : value);
const mapping = (entries) =>
  `{${Object.entries(entries).map(([key, value]) => `${key}: ${quoted(value)}`).join(', ')}}`;

function evidence_of(one) {
  const lines = one.done.map((item) => `  - ${mapping(item)}`);
  return [`complaint: ${mapping(one.complaint)}`, 'done:', ...lines, ''].join('\n');
}

/// The tables of a case, cut to the `faults` likeliest on its route.
export function tables_of(one, faults) {
  assert.ok(process.env.WHICHLINK_PROGRAM, 'WHICHLINK_PROGRAM is not set');
  const folder = mkdtempSync(join(tmpdir(), 'whichlink-referee-'));
  try {
    const file = join(folder, 'case.yaml');
    writeFileSync(file, evidence_of(one));
    const text = execFileSync(
      process.env.WHICHLINK_PROGRAM,
      ['tables', '--model', one.model, '--evidence', file, '--faults', String(faults)],
      { encoding: 'utf8', maxBuffer: 1 << 28 },
    );
    const tables = JSON.parse(text);
    check(tables, one, faults);
    return tables;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/// The installations that come with the program, by the names of their files.
export function installations() {
  assert.ok(process.env.WHICHLINK_SOURCE_DIR, 'WHICHLINK_SOURCE_DIR is not set');
  return readdirSync(join(process.env.WHICHLINK_SOURCE_DIR, 'models'))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => name.slice(0, -'.yaml'.length))
    .sort();
}

// The libraries scale rows that do not add up to 1 without a word, so the rows are checked here.
function adds_up(row) {
  const sum = row.reduce((total, chance) => total + chance, 0);
  assert.ok(Math.abs(sum - 1) < 1e-12, `a row adds up to ${sum}`);
  for (const chance of row) assert.ok(chance >= 0 && chance <= 1, `a chance of ${chance}`);
}

function ascends_to_one(row) {
  assert.equal(row.at(-1), 1);
  adds_up(row.map((chance, index) => chance - (row[index - 1] ?? 0)));
}

function check(tables, one, faults) {
  assert.deepEqual(tables.states, ['absent', 'quiet', 'showing']);
  assert.equal(tables.faults.length, faults, 'faults kept');
  assert.equal(tables.arrangements.length, one.arrangements, 'arrangements');
  for (const fault of tables.faults) {
    adds_up(fault.prior);
    for (const sense of Object.values(fault.at_most)) ascends_to_one(sense);
  }
  let prior = 0;
  for (const arrangement of tables.arrangements) {
    prior += arrangement.prior;
    assert.equal(arrangement.left_out, 0, 'the program itself was not exact');
    // The complaint, the room settling after it, and one slice for each move.
    assert.equal(arrangement.evidence.length, 2 + one.done.length, 'slices');
    for (const slice of arrangement.evidence) {
      for (const { matrix } of slice.transitions) matrix.forEach(adds_up);
      ascends_to_one(slice.leak_at_most);
      assert.equal(slice.chance_of_report.length, severities(tables, slice));
      assert.equal(slice.leak_at_most.length, severities(tables, slice));
      for (const chance of slice.chance_of_report) assert.ok(chance >= 0 && chance <= 1);
    }
  }
  assert.ok(Math.abs(prior - 1) < 1e-12, `arrangements add up to ${prior}`);
}

const severities = (tables, slice) => tables.senses[slice.sense].severities.length;

/// at_most[s] as chances of each severity.
export const chances = (at_most) =>
  at_most.map((chance, s) => chance - (s > 0 ? at_most[s - 1] : 0));

/// Holds the program's answer for an arrangement against `found`: {log_evidence (-Infinity where
/// the reports cannot be), posterior: by fault, a chance for each state}. Returns how many numbers
/// agreed.
export function compare(arrangement, found) {
  let numbers = 0;
  const hold = (ours, theirs, what) => {
    const difference = Math.abs(ours - theirs);
    assert.ok(difference <= kTolerance, `${what}: the program says ${ours}, the referee ${theirs}`);
    ++numbers;
  };
  const label = arrangement.words === '' ? 'straight' : arrangement.words;
  if (arrangement.log_evidence === null) {
    assert.equal(found.log_evidence, -Infinity, `${label}: log evidence`);
    ++numbers;
  } else {
    hold(arrangement.log_evidence, found.log_evidence, `${label}: log evidence`);
  }
  assert.equal(found.posterior.length, arrangement.posterior.length);
  arrangement.posterior.forEach((marginal, fault) => {
    assert.equal(marginal.length, 3);
    marginal.forEach((chance, state) => {
      hold(chance, found.posterior[fault][state], `${label}: fault ${fault}, state ${state}`);
    });
  });
  return numbers;
}
