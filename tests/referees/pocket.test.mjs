// The engine inside the pocket page against the engine itself, step by step: random cases of every
// shipped installation, each answer of which may be a symptom, a drop in dB, "not sure" or "cannot
// do", and may be taken back. The moves, what is to be put back and what a case came to are the
// same; chances and minutes agree to 1e-9, for exp and log come from another library there.
import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import readline from 'node:readline';
import test from 'node:test';
import {
  engine_of,
  model_file,
  models,
  page_of,
  random_answer,
  random_from,
  source,
} from './pocket_engine.mjs';

// 200 in all; fewer where the engine thinks longer.
const kCases = { 'two-room-booth': 30, 'single-room': 80, 'small-stage': 30, 'screening-set': 60 };
const kMostActs = 10;
const kNear = 1e-9;

/// Plays one case with the page's engine. @return what was told and what was said, as steps.cc has it
function played(engine, model, random) {
  const route = random.one_of(engine.start.routes);
  const told = random.chance(0.1)
    ? { heard: 'not sure' }
    : random.chance(0.1) && route.levels
      ? { heard: 'weak', 'drop db': random.one_of([8, 22.5, 35]) }
      : { heard: random.one_of(route.answers.slice(1)).heard };
  const complaint = { route: route.route, ...told };
  if (random.chance(0.3)) complaint['days since pass'] = random.one_of([0, 1, 30, 365]);
  const events = { complaint, done: [] };
  if (random.chance(0.3)) events.listener = random.one_of(route.listeners);

  const sound = random.one_of([0.3, 0.6, 0.95]);
  const acts = [];
  const said = [engine.show({ case: events })];
  while (acts.length < kMostActs && said[0].kind !== 'problem') {
    const here = said.findLast((one) => one.kind !== 'problem');
    if (events.done.length > 0 && random.chance(here.kind === 'ending' ? 0.5 : 0.1)) {
      events.done.pop();
      acts.push({ back: true });
    } else if (here.kind === 'ending') {
      break;
    } else {
      const move = random.chance(0.15) ? random.one_of(here.others).move : here.move;
      const shown = move === here.move ? here : engine.show({ case: events, chosen: move });
      assert.equal(shown.move, move);
      const answer = { move, ...random_answer(random, shown, sound) };
      acts.push(answer);
      events.done.push(answer);
    }
    said.push(engine.show({ case: events }));
    if (said.at(-1).kind === 'problem') events.done.pop();
  }
  const { listener } = events;
  const request = { complaint, acts, ...(listener ? { listener } : {}) };
  request.installation = model_file(model);
  request['rules folder'] = path.join(source, 'rules');
  return { request, said };
}

const near = (a, b) => Math.abs(a - b) <= kNear * Math.max(1, Math.abs(b));

/// The engine's own program, asked a line at a time.
function native() {
  const child = spawn(process.env.WHICHLINK_POCKET_STEPS, { stdio: ['pipe', 'pipe', 'inherit'] });
  const lines = readline.createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  return {
    ask: async (request) => {
      child.stdin.write(`${JSON.stringify(request)}\n`);
      return JSON.parse((await lines.next()).value);
    },
    end: () => child.stdin.end(),
  };
}

/// Chances by name: of two that are equal to the last digit, either may stand first.
function same_chances(ours, theirs, where) {
  const named = (list) => new Map(list.map((one) => [one.fault, one.chance]));
  const wanted = named(theirs);
  assert.equal(ours.length, theirs.length, where);
  for (const [fault, chance] of named(ours)) {
    assert.ok(
      near(chance, wanted.get(fault)),
      `${where}: ${fault} ${chance}, not ${wanted.get(fault)}`,
    );
  }
  ours.forEach((one, at) => assert.ok(near(one.chance, theirs[at].chance), `${where}: order`));
}

function same_step(page, engine, where) {
  if (engine.problem) {
    assert.equal(page.kind, 'problem', where);
    assert.ok(page.line.includes(engine.problem), `${where}: ${page.line}`);
    return;
  }
  assert.equal(page.kind, engine.ending ? 'ending' : 'step', where);
  assert.equal(page.steps, engine.steps.length, where);
  assert.ok(near(page.minutes, engine.minutes), `${where}: minutes`);
  assert.deepEqual(page.put_back, engine.put_back, `${where}: put back`);
  assert.equal(page.case, engine.text, where);
  same_chances(page.suspects, engine.posterior.suspects, where);
  if (!engine.ending) {
    assert.equal(page.move, engine.next.move, `${where}: move`);
    assert.equal(page.instruction, engine.next.instruction, where);
    assert.deepEqual(page.cautions, engine.next.cautions, where);
    assert.deepEqual(
      page.others.map((one) => one.move),
      engine.others,
      `${where}: other moves`,
    );
    return;
  }
  assert.equal(page.stage, engine.ending.stage, where);
  const block = (title) => page.blocks.find((one) => one.title === title)?.lines ?? [];
  const titles = {
    'What was done': 'repairs',
    'Stood the stress since': 'verified',
    'Put back where it belongs': 'put_back',
    'Before the next patient or use': 'needs_after',
    'Throw out, and label as bad': 'throw_out',
    'Back to the drawer': 'return_to_drawer',
    'Works meanwhile': 'works_meanwhile',
    'Do not use': 'do_not_use',
  };
  for (const [title, key] of Object.entries(titles)) {
    assert.deepEqual(block(title), engine.ending[key], `${where}: ${title}`);
  }
  assert.equal(block('What was wrong, and how sure').length, engine.ending.causes.length, where);
}

test('the page agrees with the engine at every step of random cases', async (context) => {
  const engine = native();
  context.after(engine.end);
  const seen = { steps: 0, problems: 0, back: 0, cannot: 0, 'not sure': 0 };
  const stages = {};
  for (const [number, model] of models.entries()) {
    const page = await engine_of(page_of(model));
    for (let one = 0; one < kCases[model]; ++one) {
      const { request, said } = played(page, model, random_from(1000 * (number + 1) + one));
      const answers = await engine.ask(request);
      const where = `${model}, case ${one}`;
      assert.equal(
        answers.length,
        said.length,
        `${where}: ${JSON.stringify(answers).slice(0, 300)}`,
      );
      said.forEach((step, at) => same_step(step, answers[at], `${where}, after ${at} acts`));
      seen.steps += said.filter((step) => step.kind !== 'problem').length;
      seen.problems += said.filter((step) => step.kind === 'problem').length;
      seen.back += request.acts.filter((act) => act.back).length;
      seen.cannot += request.acts.filter((act) => act.heard === 'cannot do').length;
      seen['not sure'] += request.acts.filter((act) => act.heard === 'not sure').length;
      const stage = said.at(-1).stage ?? 'open';
      stages[stage] = (stages[stage] ?? 0) + 1;
    }
  }
  console.log(JSON.stringify({ ...seen, stages }));
  // What was to be tried was tried.
  for (const [what, count] of Object.entries(seen)) assert.ok(count >= 10, `${what}: ${count}`);
  for (const stage of ['mended', 'nothing found', 'handed over']) {
    assert.ok((stages[stage] ?? 0) >= 3, `${stage}: ${stages[stage]}`);
  }
});

test('rates learned from a record are in the page', async (context) => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'pocket-record-'));
  context.after(() => fs.rmSync(folder, { recursive: true }));
  const record = path.join(folder, 'r.db');
  const run = (...words) =>
    execFileSync(process.env.WHICHLINK_PROGRAM, words, { encoding: 'utf8', maxBuffer: 1 << 26 });
  const about = ['--model', 'two-room-booth'];
  const complaint = { route: 'left phone', heard: 'silent' };
  const heard = ['--route', complaint.route, '--heard', complaint.heard];
  const answers = path.join(source, 'tests/cases/always-silent.txt');
  const when = (day) => ['--record', record, '--at', day];
  run('isolate', ...about, ...heard, ...when('2026-01-05T08:30'), '--answers', answers);
  const now = when('2026-11-26T08:30');
  const { suspects } = JSON.parse(run('rank', ...about, ...heard, ...now, '--json'));
  const suspects_on = async (page) =>
    (await engine_of(page)).show({ case: { complaint, done: [] } }).suspects;
  same_chances(await suspects_on(page_of('two-room-booth', ...now)), suspects, 'learned');
  const plain = await suspects_on(page_of('two-room-booth'));
  assert.ok(
    suspects.some((one, at) => !near(one.chance, plain[at].chance)),
    'it told nothing',
  );
});
