// Writes every kind of sheet of every shipped installation, and of one with hostile names, into a
// folder, from an invented record.
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

const kCases = join(process.env.WHICHLINK_SOURCE_DIR, 'tests/cases');
const kModels = ['screening-set', 'single-room', 'small-stage', 'two-room-booth'];
const kAt = ['--at', '2026-11-26'];
const kLong = 'W'.repeat(50); // a name has 60 characters at most

// Names that a page must only ever show.
export const kHostile = {
  installation: `<script>alert("1")</script> & 'Co' ${kLong.repeat(4)}`,
  place: 'room "of" <b>\u05E9\u05DC\u05D5\u05DD</b> \u{1F3A7}',
  output: 'out </style></table><!-- &amp;',
  jack: `jack ${kLong}`,
  cord: '\u0645\u0631\u062D\u0628\u0627 cord &lt;',
  earphone: '\u{1F442}\u{1F3FD} earphone" onload="x',
  route: `<img src=x onerror=alert(1)> ${'\u05D0'.repeat(30)}`,
};

export const hostileModel = () => {
  const say = JSON.stringify; // a text in quotes is YAML as well
  const name = kHostile;
  return `installation: ${say(name.installation)}
rules: hearing
about: hostile names
source: invented for the demo
people: 1
start: ${say(name.place)}
places: [${say(name.place)}]
parts:
  ${say(name.place)}:
    channel: audiometer channel
    ${say(name.output)}: output stage
    ${say(name.jack)}: phone jack
    ${say(name.cord)}: headset cord
    ${say(name.earphone)}: earphone
fixed:
  - [${say(name.output)}, ${say(name.jack)}]
switched:
  - [channel, ${say(name.output)}]
plugged:
  - [${say(`${name.cord}.left plug`)}, ${say(name.jack)}]
  - [${say(`${name.cord}.left pins`)}, ${say(`${name.earphone}.socket`)}]
routes:
  ${say(name.route)}:
    from: channel
    to: ${say(`${name.earphone}.driver`)}
    selects: ${say(name.output)}
    signal: phones
    side: left
`;
};

export function run(...words) {
  return execFileSync(process.env.WHICHLINK_PROGRAM, words, { encoding: 'utf8', maxBuffer: 1 << 26 });
}

// A year of one room: sessions on working days, checks on most of them, a few cases; and drills.
function makeRecord(folder) {
  const record = join(folder, 'clinic.db');
  const on = (model, at) => ['--model', model, '--record', record, '--at', at];
  const days = [...Array(365).keys()].map((day) => new Date(Date.UTC(2026, 0, 1 + day)))
    .filter((day) => day.getUTCDay() % 6 !== 0).map((day) => day.toISOString().slice(0, 10));
  const sessions = join(folder, 'sessions.txt');
  writeFileSync(sessions, days.map((day, index) => `A${index},${day},left phone;bone\n`).join(''));
  run('session', ...on('single-room', '2026-12-31T17:00'), '--from', sessions);
  // In the order of time: a case starts from the last check that passed.
  const isolate = (at, route, heard, answers) => run('isolate', ...on('single-room', at), '--route',
    route, '--heard', heard, '--answers', join(kCases, answers));
  for (const day of days.filter((_, index) => index % 9 === 0)) {
    run('check', ...on('single-room', `${day}T08:00`), '--answers', join(kCases, 'check-all-well.txt'));
    if (day.startsWith('2026-03')) isolate(`${day}T16:00`, 'left phone', 'drops out', 'all-steady.txt');
    if (day.startsWith('2026-06')) isolate(`${day}T09:00`, 'bone', 'silent', 'always-silent.txt');
  }
  for (const [lesson, one, answers] of [['1', '1', 'good'], ['7', '1', 'hasty'], ['2', '2', 'hasty'],
    ['9', '2', 'crossed']]) {
    run('drill', '--lesson', lesson, '--case', one, '--trainee', 'T1', '--record', record, '--at',
      `2026-10-0${lesson}`, '--answers', join(kCases, `drill-${answers}.txt`));
  }
  return record;
}

function caseFile(folder, model, route, heard, done) {
  const file = join(folder, `case-${model.replaceAll('/', '_').slice(-30)}`);
  writeFileSync(file, JSON.stringify({ model, complaint: { route, heard }, done }));
  return file;
}

// @return files by what they are, such as "chain single-room"
export function writeSheets(folder) {
  const files = new Map();
  const write = (name, kind, ...options) => {
    const file = join(folder, `${name.replaceAll(' ', '-')}.html`);
    run('sheet', kind, ...options, ...kAt, '--out', file);
    files.set(name, file);
  };
  const record = makeRecord(folder);
  const hostile = join(folder, 'hostile.yaml');
  writeFileSync(hostile, hostileModel());
  const complaints = {
    'screening-set': ['button', 'misses', [{ move: 'listen', heard: 'follows' }]],
    'single-room': ['left phone', 'drops out', [{ move: 'listen', heard: 'crackle' },
      { move: 'substitute spare headset cord for headset cord', heard: 'steady' }]],
    'small-stage': ['left vocal', 'cuts', [{ move: 'bend left vocal cord.wire', heard: 'cuts' }]],
    'two-room-booth': ['left phone', 'drops out', [{ move: 'listen', heard: 'crackle' },
      { move: 'connect headset cord.left plug into left jack', heard: 'steady' }]],
    [hostile]: [kHostile.route, 'silent', [{ move: 'listen', heard: 'silent' }]],
  };
  for (const model of [...kModels, hostile]) {
    const name = model === hostile ? 'hostile' : model;
    const about = ['--model', model];
    write(`chain ${name}`, 'chain', ...about);
    write(`check daily ${name}`, 'check', ...about);
    write(`check weekly ${name}`, 'check', ...about, '--list', 'weekly',
      ...(name === 'small-stage' ? [] : ['--coupler', 'supra-aural on ear simulator']));
    const one = caseFile(folder, model, ...complaints[model]);
    write(`hand-over ${name}`, 'hand-over', '--case', one);
    write(`do-not-use ${name}`, 'do-not-use', '--case', one, '--since', '2026-11-26T08:30');
    write(`stock ${name}`, 'stock', ...about, '--cases', '1', '--think', '0');
    write(`year ${name}`, 'year', ...about, '--record', record, '--year', '2026');
  }
  write('hand-over on record', 'hand-over', '--record', record, '--case', '2');
  write('drill T1', 'drill', '--trainee', 'T1', '--record', record);
  return files;
}
