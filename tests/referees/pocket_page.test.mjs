// The pocket page in a real browser, opened from a file: clicked through against the engine itself,
// by keyboard alone, on phones and tablets, without script, and with names that would like to be
// markup.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import test, { after, before } from 'node:test';
import { pathToFileURL } from 'node:url';
import {
  axeComplaints,
  kSizes,
  layoutComplaintsOf,
  markupComplaints,
  openBrowser,
} from './page_checks.mjs';
import {
  model_file,
  models,
  page_of,
  random_from,
  source,
} from './pocket_engine.mjs';

const kScreens = [kSizes.narrow, kSizes.phone, kSizes.tablet];
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'pocket-'));
let browser;

before(async () => {
  browser = await openBrowser();
});
after(async () => {
  await browser?.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

/// A page's file: written once for each installation.
function file_of(model, ...more) {
  const file = path.join(folder, `${path.basename(model)}${more.length}.html`);
  if (!fs.existsSync(file)) fs.writeFileSync(file, page_of(model, ...more));
  return pathToFileURL(file).href;
}

/// The page open in a browser that knows nothing yet; what it complains of or asks the network for
/// is gathered.
async function opened(url, options = {}) {
  const context = await browser.newContext({ viewport: kSizes.phone, ...options });
  const page = await context.newPage();
  const wrong = [];
  page.on('console', (one) => {
    if (['error', 'warning'].includes(one.type())) wrong.push(one.text());
  });
  page.on('pageerror', (error) => wrong.push(error.message));
  page.on('dialog', (dialog) => {
    wrong.push(`a dialog: ${dialog.message()}`);
    dialog.dismiss();
  });
  page.on('request', (request) => {
    if (request.url() !== url) wrong.push(`a request: ${request.url().slice(0, 80)}`);
  });
  await page.goto(url);
  if (options.javaScriptEnabled !== false) await page.waitForSelector('main h2');
  return { page, wrong, close: () => context.close() };
}

const heading = (page) => page.locator('main h2').first().innerText();
const idle = (page) => page.waitForSelector('main:not(.busy)');
async function tap(page, name) {
  await page.getByRole('button', { name, exact: true }).first().click();
  await idle(page);
}

const percent = (share) => {
  if (share < 0.005) return '<1 %';
  if (share >= 0.995 && share < 1) return '>99 %';
  return `${Math.round(share * 100)} %`;
};

/// What the engine itself says of the same case, after its last act.
function engine_says(requests) {
  const input = requests.map((one) => JSON.stringify(one)).join('\n');
  const said = execFileSync(process.env.WHICHLINK_POCKET_STEPS, {
    input,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return said
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
}

/// What a person sees of a step or an ending.
const seen_on = (page) =>
  page.evaluate(() => {
    const texts = (root, selector) =>
      [...root.querySelectorAll(selector)].map((one) => one.textContent);
    const main = document.getElementById('main');
    const headed = (title) =>
      [...main.querySelectorAll('h3')].find((one) => one.textContent === title)?.nextElementSibling;
    const suspects = [...main.querySelectorAll('h3')].find((one) =>
      one.textContent.startsWith('Suspects now'),
    );
    const put_back = headed('Still to be put back') ?? headed('Put back where it belongs');
    return {
      title: main.querySelector('h2').textContent,
      instruction: main.querySelector('.do')?.textContent,
      answers: texts(main, 'fieldset .keys button'),
      suspects: suspects ? texts(suspects.nextElementSibling, 'li').join('|') : undefined,
      put_back: put_back ? texts(put_back, 'li') : [],
      minds: texts(main, '.mind li'),
      levels: main.querySelector('fieldset form') !== null,
      problem: main.querySelector('.problem')?.textContent,
      focused: document.activeElement === main.querySelector('h2'),
    };
  });

/// One case, tapped. @return what was told, and what was seen after each act
async function tapped(page, model, random) {
  const routes = await page.locator('fieldset button').allInnerTexts();
  const route = random.one_of(routes).split('\n')[0];
  await page.locator('fieldset button', { hasText: route }).first().click();
  await idle(page);
  assert.equal(await heading(page), route);
  await page
    .locator('fieldset .keys button')
    .nth(random.chance(0.5) ? 0 : 1)
    .click();
  await idle(page);
  const told = await page.evaluate(() => JSON.parse(Object.values(localStorage)[0]).case);
  const acts = [];
  const seen = [await seen_on(page)];
  while (acts.length < 8 && seen.at(-1).title.startsWith('Step')) {
    const back = page.getByRole('button', { name: 'Take back the last answer' });
    if ((await back.count()) > 0 && random.chance(0.15)) {
      await back.click();
      await idle(page);
      acts.push({ back: true });
    } else {
      const buttons = page.locator('fieldset .keys button');
      const count = await buttons.count();
      const at = random.chance(0.2)
        ? count - 1 - (random.chance(0.5) ? 1 : 0)
        : random.chance(0.6)
          ? 0
          : count - 4;
      await buttons.nth(at).click();
      await idle(page);
      const done = await page.evaluate(() => JSON.parse(Object.values(localStorage)[0]).case.done);
      if ((await seen_on(page)).problem) break;
      acts.push(done.at(-1));
    }
    seen.push(await seen_on(page));
  }
  return {
    request: {
      installation: model_file(model),
      'rules folder': path.join(source, 'rules'),
      complaint: told.complaint,
      listener: told.listener,
      acts,
    },
    seen,
  };
}

test('what is tapped shows what the engine says', async () => {
  const times = [];
  for (const [number, model] of models.entries()) {
    const { page, wrong, close } = await opened(file_of(model));
    const cases = [];
    for (let one = 0; one < 5; ++one) {
      cases.push(await tapped(page, model, random_from(77 * (number + 1) + one)));
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await page.waitForSelector('main h2');
    }
    const said = engine_says(cases.map((one) => one.request));
    cases.forEach(({ seen }, at) => {
      assert.equal(said[at].length, seen.length);
      seen.forEach((here, step) => {
        const engine = said[at][step];
        const where = `${model}, case ${at}, after ${step} acts`;
        assert.ok(here.focused, `${where}: the heading has the focus`);
        assert.deepEqual(here.put_back, engine.put_back, where);
        if (engine.ending) {
          assert.ok(!here.title.startsWith('Step'), where);
          times.push(engine.ending.stage);
          return;
        }
        assert.ok(here.title.startsWith(`Step ${engine.steps.length + 1}: `), where);
        assert.equal(here.instruction, engine.next.instruction, where);
        assert.deepEqual(here.minds, engine.next.cautions, where);
        const suspects = engine.posterior.suspects
          .filter((one) => one.chance >= 0.005)
          .slice(0, 5)
          .map((one) => percent(one.chance) + one.words);
        assert.equal(
          here.suspects,
          suspects.length > 0 ? suspects.join('|') : here.suspects,
          where,
        );
      });
    });
    assert.deepEqual(wrong, [], model);
    await close();
  }
  assert.ok(times.length >= 3, `endings seen: ${times.length}`);
});

/// The screens of a page, one after the other, each with a name.
async function screens(page, look) {
  const open_all = () =>
    page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
  await look('routes');
  await page.locator('fieldset .keys button').first().click();
  await idle(page);
  await open_all();
  await look('complaints');
  await page.locator('fieldset .keys button').nth(2).click();
  await idle(page);
  await look('a step');
  await open_all();
  await look('a step, unfolded');
  await page.locator('details .keys button').nth(2).click();
  await idle(page);
  await look('another move');
  await tap(page, 'Cannot do it');
  await page.fill('fieldset form input', 'loud');
  await page.locator('fieldset form button').click();
  await page.waitForSelector('.problem');
  await look('a wrong number');
  await tap(page, 'Not sure');
  await tap(page, 'Put aside');
  await open_all();
  await look('put aside');
  await tap(page, 'Go on');
  for (let step = 0; step < 40 && (await heading(page)).startsWith('Step'); ++step) {
    await page
      .locator('fieldset .keys button')
      .nth(step % 3 === 2 ? 1 : 0)
      .click();
    await idle(page);
  }
  await open_all();
  await look('the ending');
  assert.ok(!(await heading(page)).startsWith('Step'));
}

/// Keys too small for a thumb.
const small_keys = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('button, summary, input, select')]
      .filter((one) => one.checkVisibility())
      .map((one) => ({ text: one.textContent, box: one.getBoundingClientRect() }))
      .filter(({ box }) => box.height < 44 || box.width < 44)
      .map(({ text, box }) => `${text} is ${box.width} by ${box.height}`),
  );

test('every screen is laid out and can be used by everybody', async () => {
  const names = new Set();
  const markup = [];
  for (const size of kScreens) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, wrong, close } = await opened(
        file_of('two-room-booth', '--contact', 'Extension 4411'),
        {
          viewport: size,
          colorScheme,
        },
      );
      await screens(page, async (name) => {
        const where = `${name}, ${size.width} px, ${colorScheme}`;
        names.add(name);
        assert.deepEqual(await layoutComplaintsOf(page), [], where);
        assert.deepEqual(await axeComplaints(page), [], where);
        assert.deepEqual(await small_keys(page), [], where);
        if (process.env.POCKET_SHOTS) {
          await page.screenshot({
            path: path.join(process.env.POCKET_SHOTS, `${where}.png`),
            fullPage: true,
          });
        }
        if (size === kSizes.phone && colorScheme === 'light') {
          markup.push([name, await page.evaluate(() => document.documentElement.outerHTML)]);
        }
      });
      assert.deepEqual(wrong, []);
      await close();
    }
  }
  assert.equal(names.size, 8);
  // The checker of HTML reads the file itself and each screen as it stood.
  const files = markup.map(([name, html]) => {
    const file = path.join(folder, `${name.replaceAll(' ', '-')}.html`);
    fs.writeFileSync(
      file,
      `<!DOCTYPE html>\n${html.replace(/<script id="engine"[^>]*>[^<]*/, '<script id="engine" type="text/plain">')}`,
    );
    return file;
  });
  fs.writeFileSync(path.join(folder, 'file.html'), page_of('two-room-booth'));
  // The checker knows no hashes, and takes what the script has set for attributes of the file; what
  // the policy really blocks, the browser has complained of above.
  const complaints = markupComplaints([path.join(folder, 'file.html'), ...files]).filter(
    (one) => !/info: .*violates Content Security Policy \(meta tag\)/.test(one),
  );
  assert.deepEqual(complaints, []);
});

test('a whole case goes by the keyboard alone', async () => {
  const { page, wrong, close } = await opened(file_of('single-room'));
  /// Tab until the wanted control has the focus, then press it.
  const press = async (wanted) => {
    for (let at = 0; at < 60; ++at) {
      await page.keyboard.press('Tab');
      const here = await page.evaluate(() => {
        const one = document.activeElement;
        const line = getComputedStyle(one);
        return {
          text: one.innerText,
          tag: one.tagName,
          seen: line.outlineStyle !== 'none' && parseFloat(line.outlineWidth) >= 2,
        };
      });
      if (here.tag === 'BODY') continue;
      assert.ok(here.seen, `the focus is seen on ${here.tag} ${here.text}`);
      if (wanted(here)) {
        await page.keyboard.press(here.tag === 'SUMMARY' ? 'Space' : 'Enter');
        await page.waitForTimeout(30);
        await idle(page);
        return here.text;
      }
    }
    throw new Error(`no such control on "${await heading(page)}"`);
  };
  const named = (text) => (here) => here.tag === 'BUTTON' && here.text.startsWith(text);
  await press(named('left phone'));
  await press(named('nothing at all'));
  assert.match(await heading(page), /^Step 1: /);
  const first = await heading(page);
  await press(named('Not sure'));
  await press(named('Take back'));
  assert.equal(await heading(page), first);
  await press((here) => here.tag === 'SUMMARY' && here.text.startsWith('Other moves'));
  await press((here) => here.tag === 'BUTTON' && here.text.includes('to the end'));
  let steps = 0;
  while ((await heading(page)).startsWith('Step') && steps < 40) {
    await press((here) => here.tag === 'BUTTON');
    ++steps;
  }
  assert.match(await heading(page), /^(Mended|Nothing found|Call service)/);
  await press(named('New case'));
  assert.equal(await heading(page), 'Before anything else');
  assert.deepEqual(wrong, []);
  await close();
});

test('a case outlives a reload, and what was kept wrongly does no harm', async () => {
  const { page, wrong, close } = await opened(file_of('small-stage'));
  await page.locator('fieldset .keys button').first().click();
  await idle(page);
  await page.locator('fieldset .keys button').first().click();
  await idle(page);
  await page.locator('fieldset .keys button').first().click();
  await idle(page);
  const before = await seen_on(page);
  assert.match(before.title, /^Step 2: /);
  await page.reload();
  await page.waitForSelector('main h2');
  assert.deepEqual(await seen_on(page), before);
  const values = [
    '',
    '{',
    'null',
    '7',
    '[]',
    '{"case":1}',
    '{"case":{"done":[]}}',
    '{"route":"nowhere"}',
    '{"case":{"done":[{"move":7}],"complaint":{"route":"x","heard":[]}}}',
    '{"case":{"done":[],"complaint":{"route":"x","heard":"y"}},"chosen":{"a":1}}',
  ];
  for (const value of values) {
    await page.evaluate((text) => localStorage.setItem(Object.keys(localStorage)[0], text), value);
    await page.reload();
    await page.waitForSelector('main h2');
    assert.equal(await heading(page), 'Before anything else', value);
    await tap(page, /^left vocal/);
    assert.equal(await heading(page), 'left vocal', value);
  }
  assert.deepEqual(wrong, []);
  await close();
});

test('without script the page says what to mind and whom to call', async () => {
  const { page, close } = await opened(file_of('single-room', '--contact', 'Extension <4411>'), {
    javaScriptEnabled: false,
  });
  const text = await page.locator('main').innerText();
  assert.match(text, /Turn the level down/);
  assert.match(text, /needs script/);
  assert.match(text, /Call service: Extension <4411>/);
  await close();
});

test('a browser that cannot run the engine says the same', async () => {
  const context = await browser.newContext();
  await context.addInitScript(() => delete globalThis.WebAssembly);
  const page = await context.newPage();
  await page.goto(file_of('single-room', '--contact', 'Extension <4411>'));
  await page.waitForSelector('main h2');
  const text = await page.locator('main').innerText();
  assert.match(text, /did not start/);
  assert.match(text, /Turn the level down/);
  assert.match(text, /Call service: Extension <4411>/);
  await context.close();
});

test('names are text, whatever is in them', async () => {
  const evil = '<img src=x onerror=alert(1)>';
  const out = '</script><script>alert(2)</script>';
  const text = fs
    .readFileSync(model_file('single-room'), 'utf8')
    .replace('One-room clinic, Harrow Lane practice', JSON.stringify(out))
    .replaceAll('left phone', JSON.stringify(evil))
    .replaceAll(/\bheadset cord(?=[.:\]])/g, '<b>&amp;"cord')
    .replace('<b>&amp;"cord: headset cord', "'<b>&amp;\"cord': headset cord");
  const file = path.join(folder, 'hostile.yaml');
  fs.writeFileSync(file, text);
  const { page, wrong, close } = await opened(file_of(file, '--contact', `${evil}<!--data-->`));
  assert.equal(await page.locator('.about').innerText(), out);
  assert.ok((await page.title()).endsWith(out));
  await page.locator('fieldset .keys button').first().click();
  await idle(page);
  assert.equal(await heading(page), evil);
  await page.locator('fieldset .keys button').nth(5).click();
  await idle(page);
  for (let step = 0; step < 40 && (await heading(page)).startsWith('Step'); ++step) {
    await page
      .locator('fieldset .keys button')
      .nth(step % 2)
      .click();
    await idle(page);
  }
  assert.ok((await page.locator('main').innerText()).includes('<b>&amp;"cord'));
  assert.equal(await page.locator('img, main b:not(.chances b)').count(), 0);
  assert.deepEqual(wrong, []);
  await close();
});
