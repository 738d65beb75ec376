// How long a person with the pocket page waits: from the tap until the next screen stands there, in
// Chromium, for the case of 12 answers of bench_start. Called with the program.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const { chromium } = createRequire(import.meta.url)('playwright-core');
const kRuns = 5;
const kAnswers = 12;
const program = process.argv[2];
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'pocket-bench-'));
const file = path.join(folder, 'page.html');
execFileSync(program, ['sheet', 'pocket', '--model', 'two-room-booth', '--out', file]);

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

/// Taps the key with these words. @return milliseconds until the page takes the next tap
const tap = (page, words) =>
  page.evaluate(async (wanted) => {
    const key = [...document.querySelectorAll('button')].find((one) =>
      one.innerText.startsWith(wanted),
    );
    const main = document.getElementById('main');
    const start = performance.now();
    key.click();
    while (main.classList.contains('busy')) await new Promise(requestAnimationFrame);
    return performance.now() - start;
  }, words);

const opened = [];
const first = [];
const answers = Array.from({ length: kAnswers }, () => []);
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
});
for (let run = 0; run < kRuns; ++run) {
  const page = await browser.newPage();
  const start = performance.now();
  await page.goto(pathToFileURL(file).href);
  await page.waitForSelector('main h2');
  opened.push(performance.now() - start);
  await page.evaluate(() => localStorage.clear());
  await tap(page, 'left phone');
  first.push(await tap(page, 'nothing at all'));
  for (const times of answers) {
    let wait = await tap(page, 'nothing at all');
    const refused = (await page.locator('.problem').count()) > 0;
    if (refused) wait = await tap(page, 'Not sure');
    times.push(wait);
  }
  const title = await page.locator('main h2').innerText();
  if (!title.startsWith(`Step ${kAnswers + 1}`)) throw new Error(`not all answers: ${title}`);
  await page.close();
}
await browser.close();

const row = (what, list) => {
  const cells = [median(list), Math.min(...list)].map((ms) => ms.toFixed(0).padStart(9));
  console.log(what.padEnd(40) + cells.join(''));
};
console.log(`pocket: medians of ${kRuns} runs; a page of ${fs.statSync(file).size} bytes`);
console.log(`${''.padEnd(40)}${'ms'.padStart(9)}${'least ms'.padStart(9)}`);
row('opened, until the first screen', opened);
row('the complaint, until the first move', first);
row('an answer, until the next move', answers.flat());
row('  the one that took longest', answers.reduce((a, b) => (median(a) > median(b) ? a : b)));
fs.rmSync(folder, { recursive: true });
