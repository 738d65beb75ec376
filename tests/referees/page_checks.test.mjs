// Each check of page_checks.mjs is red on a page that is broken in its way, and green on a good one.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { markupComplaints, openBrowser, pageComplaints, sheetsOfPaper } from './page_checks.mjs';

const kGood = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Good</title>
<meta name="viewport" content="width=device-width">
<style>a:focus{outline:3px solid}</style></head>
<body><main><h1>Good</h1><p>Some words, and <a href="#there">a link</a>.</p>
<h2 id="there">There</h2><p>More.</p></main></body></html>`;

const kPictureOf = (text) => `<svg role="img" aria-label="a" viewBox="0 0 300 50">${text}</svg>`;

// What is put in place of what, and what must be said of it.
const kBroken = [
  ['no language', '<html lang="en">', '<html>', /axe html-has-lang/],
  ['low contrast', '<p>More.', '<p style="color:#aaa">More.', /axe color-contrast/],
  ['second first heading', '<h2 id="there">There</h2>', '<h4 id="there">There</h4>',
    /axe heading-order/],
  ['text on text', '<p>More.', '<p>More.</p><p style="margin-top:-2.2em">Over it.', /lies on each/],
  ['text on text in a picture', '<p>More.</p>',
    kPictureOf('<text y="20">one word</text><text y="24">other word</text>'), /lies on each/],
  ['text out of a picture', '<p>More.</p>', kPictureOf('<text x="280" y="20">one word</text>'),
    /out of its picture/],
  ['image from outside', '<p>More.', '<p><img alt="x" src="http://127.0.0.1:9/x.png">More.',
    /asks for http/],
  ['style from outside', '<style>', '<style>@import url("http://127.0.0.1:9/x.css");',
    /asks for http/],
  ['too wide', '<p>More.', '<p style="width:900px">More.', /is \d+ wide/],
  ['text off the page', '<p>More.', '<p style="position:absolute;left:-20px">More.', /off the page/],
  ['text that is cut', '<p>More.', '<p style="overflow:hidden;height:8px">More.', /cut: "More/],
  ['small text', '<p>More.', '<p style="font-size:9px">More.', /9.0 px is small/],
  ['text that fits by a hair', '<p>More.',
    '<p style="overflow:hidden;width:2.7em;white-space:nowrap">More.', /wide spacing: cut: "More/],
  ['a word that is broken', '<p>More.', '<p style="width:1em;overflow-wrap:anywhere">More.',
    /a word is broken: "More/],
  ['focus that is not seen', 'a:focus{outline:3px solid}', 'a:focus{outline:none}',
    /nothing shows/],
  ['control out of reach', '<p>More.', '<p><button tabindex="-1">Go</button>More.',
    /Tab does not come to <button/],
  ['control out of order', '<p>More.', '<p><a href="#there" tabindex="2">Go</a>More.',
    /Tab does not come to <a href="#there"/],
];

let folder;
let browser;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'whichlink-pages-'));
  browser = await openBrowser();
});
after(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

function kept(name, html) {
  const file = join(folder, `${name.replaceAll(' ', '-')}.html`);
  writeFileSync(file, html);
  return file;
}

test('a good page has no complaint', async () => {
  const file = kept('good', kGood);
  assert.deepEqual(await pageComplaints(browser, file), []);
  assert.deepEqual(markupComplaints([file]), []);
  assert.equal(await sheetsOfPaper(browser, file, 'A4'), 1);
});

for (const [name, from, to, expected] of kBroken) {
  test(`a page with ${name} is seen`, async () => {
    assert.ok(kGood.includes(from));
    const said = await pageComplaints(browser, kept(name, kGood.replace(from, to)));
    assert.match(said.join('\n'), expected);
  });
}

test('an unbalanced tag, a double id and a lost attribute are seen', () => {
  const files = [
    kept('unbalanced', kGood.replace('<p>More.', '<p><b>More.')),
    kept('double', kGood.replace('<p>More.', '<p id="there">More.')),
    kept('lost', kGood.replace('<p>More.', '<p wrong="x">More.')),
  ];
  const said = markupComplaints(files);
  for (const file of files) assert.ok(said.some((one) => one.includes(file)), file);
});

test('sheets of paper are counted', async () => {
  const long = kept('long', kGood.replace('<p>More.',
    '<p style="break-after:page">More.</p><p style="break-after:page">More.</p><p>More.'));
  assert.equal(await sheetsOfPaper(browser, long, 'Letter'), 3);
});
