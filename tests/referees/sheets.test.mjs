// Every kind of sheet, of every shipped installation and of one with hostile names, as a browser, a
// printer, a keyboard and a screen reader take it.
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { markupComplaints, openBrowser, pageComplaints, sheetsOfPaper } from './page_checks.mjs';
import { kHostile, run, writeSheets } from './sheet_pages.mjs';

const kPages = 37;

let folder;
let browser;
let files;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'whichlink-sheets-'));
  files = writeSheets(folder);
  browser = await openBrowser();
});
after(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

test('all pages are there, and none of them was written anywhere else', () => {
  assert.equal(files.size, kPages);
  const html = readdirSync(folder).filter((file) => file.endsWith('.html'));
  assert.equal(html.length, kPages);
  assert.deepEqual(readdirSync(folder).filter((file) => file.endsWith('.new')), []);
});

test('the Nu checker has nothing to say', () => {
  assert.deepEqual(markupComplaints([...files.values()]), []);
});

test('no page asks for anything, cuts or hides text, or keeps anybody out', async (all) => {
  for (const [name, file] of files) {
    await all.test(name, async () => {
      assert.deepEqual(await pageComplaints(browser, file), []);
    });
  }
});

test('a notice is one sheet of paper, A4 or letter', async () => {
  for (const model of ['screening-set', 'single-room', 'small-stage', 'two-room-booth']) {
    for (const format of ['A4', 'Letter']) {
      const file = files.get(`do-not-use ${model}`);
      assert.equal(await sheetsOfPaper(browser, file, format), 1, `${model} ${format}`);
    }
  }
});

test('a hostile name is shown as it is, and opens nothing', async () => {
  const page = await browser.newPage();
  for (const [name, file] of files) {
    if (!name.endsWith('hostile')) continue;
    await page.goto(pathToFileURL(file).href);
    const seen = await page.evaluate(() => ({
      text: document.body.textContent,
      made: document.querySelectorAll('script, img, [onload], [onerror], body b').length,
      title: document.title,
    }));
    assert.equal(seen.made, 0, name);
    assert.ok(seen.text.includes(kHostile.installation), name);
    if (!name.startsWith('stock') && !name.startsWith('year')) {
      assert.ok(seen.text.includes(kHostile.route), name);
    }
    assert.ok(seen.title.includes('<script>'), name);
  }
  await page.close();
});

test('the same question gives the same page', () => {
  const file = files.get('chain two-room-booth');
  const again = run('sheet', 'chain', '--model', 'two-room-booth', '--at', '2026-11-26');
  assert.equal(again, readFileSync(file, 'utf8'));
});
