// The wall sheet as a browser and a printer make it: each chart on one sheet of paper, be it A4 or
// letter; nothing cut, nothing on anything else, readable by everybody.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { markupComplaints, openBrowser, pageComplaints, sheetsOfPaper } from './page_checks.mjs';
import { hostileModel } from './sheet_pages.mjs';

const kProgram = process.env.WHICHLINK_PROGRAM;
// All of the small installations; of the large one each kind of route.
const kPages = [
  ['single-room'], ['screening-set'], ['small-stage'],
  ['two-room-booth', 'left phone'], ['two-room-booth', 'bone'], ['two-room-booth', 'left speaker'],
  ['two-room-booth', 'button'], ['two-room-booth', 'talkback'],
];

let folder;
let browser;
const files = [];

before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'whichlink-wall-'));
  browser = await openBrowser();
  for (const [model, route] of kPages) {
    const file = join(folder, `${model}-${route ?? 'all'}.html`.replaceAll(' ', '-'));
    execFileSync(kProgram, ['sheet', 'wall', '--model', model, ...(route ? ['--route', route] : []),
      '--out', file], { stdio: ['ignore', 'ignore', 'pipe'] });
    files.push(file);
  }
  // Names that hardly fit anywhere, and that a page must only ever show.
  const hostile = join(folder, 'hostile.yaml');
  writeFileSync(hostile, hostileModel());
  files.push(join(folder, 'hostile.html'));
  execFileSync(kProgram, ['sheet', 'wall', '--model', hostile, '--out', files.at(-1)],
    { stdio: ['ignore', 'ignore', 'pipe'] });
});

after(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

const chartsIn = (file) => readFileSync(file, 'utf8').match(/<section class="chart /g).length;

test('each chart is one sheet of paper, and so is the page before them', async () => {
  for (const file of files) {
    const charts = chartsIn(file);
    assert.ok(charts > 2, `${file} has ${charts} charts`);
    for (const format of ['A4', 'Letter']) {
      assert.equal(await sheetsOfPaper(browser, file, format), charts + 1, `${file} on ${format}`);
    }
  }
});

test('letters on paper are of ten points at least, and steps of ten and a half', async () => {
  const page = await browser.newPage();
  await page.emulateMedia({ media: 'print' });
  for (const file of files) {
    await page.goto(`file://${file}`);
    const [all, steps] = await page.evaluate(() => {
      const least = (selector) => Math.min(...[...document.querySelectorAll(selector)]
        .map((one) => parseFloat(getComputedStyle(one).fontSize)));
      return [least('.chart, .chart *:not(.spoken)'), least('.boxes *:not(.spoken)')];
    });
    assert.ok(all >= 10 * 4 / 3 - 0.05, `${file}: ${all} px`);
    assert.ok(steps >= 10.5 * 4 / 3 - 0.05, `${file}: ${steps} px`);
  }
  await page.close();
});

test('every link of a step leads to a step further on', async () => {
  const page = await browser.newPage();
  for (const file of files) {
    await page.goto(`file://${file}`);
    const wrong = await page.evaluate(() => {
      const all = [...document.querySelectorAll('.boxes a')];
      const follows = (one) => {
        const to = document.getElementById(one.getAttribute('href').slice(1));
        const said = one.textContent.match(/\d+$/)[0];
        const following = to && (one.compareDocumentPosition(to) &
          Node.DOCUMENT_POSITION_FOLLOWING);
        return following && to.querySelector('.no').textContent === said &&
          to.closest('.chart') === one.closest('.chart');
      };
      return [all.length, all.filter((one) => !follows(one)).map((one) => one.outerHTML)];
    });
    assert.ok(wrong[0] > 3 || file.includes('hostile'), `${file}: ${wrong[0]} links`);
    assert.deepEqual(wrong[1], [], file);
  }
  await page.close();
});

test('nothing is cut, lies on anything, asks for anything, or is told by looks alone', async () => {
  for (const file of files) {
    assert.deepEqual(await pageComplaints(browser, file), []);
  }
});

test('the markup is as the standard has it', () => {
  assert.deepEqual(markupComplaints(files), []);
});
