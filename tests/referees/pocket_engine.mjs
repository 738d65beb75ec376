// The engine of a pocket page, taken out of the page and run under node, as the page runs it.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

export const source = process.env.WHICHLINK_SOURCE_DIR;
export const models = ['two-room-booth', 'single-room', 'small-stage', 'screening-set'];
export const model_file = (name) => path.join(source, 'models', `${name}.yaml`);

/// The page of an installation, as the program writes it.
export const page_of = (model, ...more) =>
  execFileSync(process.env.WHICHLINK_PROGRAM, ['sheet', 'pocket', '--model', model, ...more], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });

/// What stands between the tags of the script with that id.
export function script_of(page, id) {
  const found = new RegExp(`<script id="${id}"[^>]*>([^<]*)</script>`).exec(page);
  if (!found) throw new Error(`the page has no script with the id ${id}`);
  return found[1];
}

export async function engine_of(page) {
  const module = await WebAssembly.compile(Buffer.from(script_of(page, 'engine'), 'base64'));
  const no = () => 8;
  const { exports } = await WebAssembly.instantiate(module, {
    wasi_snapshot_preview1: { fd_close: no, fd_seek: no, fd_write: no },
  });
  exports._initialize();
  const ask = (name, question) => {
    const bytes = new TextEncoder().encode(JSON.stringify(question));
    const at = exports.whichlink_room(bytes.length);
    new Uint8Array(exports.memory.buffer, at, bytes.length).set(bytes);
    const length = exports[name](bytes.length);
    const answer = new Uint8Array(exports.memory.buffer, exports.whichlink_answer(), length);
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(answer));
  };
  const data = JSON.parse(script_of(page, 'data'));
  const start = ask('whichlink_begin', data);
  return { start, data, ask, show: (question) => ask('whichlink_show', question) };
}

/// Random numbers from a seed (Marsaglia's xorshift, 32 bits): the same cases on every run.
export function random_from(seed) {
  let state = seed | 0 || 1;
  const next = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
  for (let at = 0; at < 20; ++at) next();
  return {
    chance: (share) => next() < share,
    one_of: (list) => list[Math.floor(next() * list.length)],
  };
}

/// An answer as people give them: mostly a symptom, now and then a drop in dB, not sure, cannot do.
/// @param sound  share of symptoms that are "nothing wrong": the more, the sooner a case is closed
export function random_answer(random, step, sound) {
  if (random.chance(0.1)) return { heard: 'not sure' };
  if (random.chance(0.1)) return { heard: 'cannot do' };
  if (step.levels && random.chance(0.1)) {
    return { heard: 'weak', 'drop db': random.one_of([3, 12.5, 25, 40]) };
  }
  return {
    heard: random.chance(sound) ? step.answers[0].heard : random.one_of(step.answers).heard,
  };
}
