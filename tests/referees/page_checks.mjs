// Looks at HTML pages as a browser, a printer and a screen reader would, with tools from outside:
// Chromium, axe-core, the Nu HTML checker. Each function answers with complaints; none is good.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const require = createRequire(import.meta.url);
const kAxe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const kNu = join(dirname(require.resolve('vnu-jar/package.json')), 'build/dist/vnu.jar');

// In CSS pixels. The width of paper is what its margins of 13 mm leave.
export const kSizes = {
  narrow: { width: 320, height: 640 },
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  a4: { width: 695, height: 993, media: 'print' },
  letter: { width: 717, height: 927, media: 'print' },
};
const kTags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const kSmallestText = 12; // CSS pixels: 9 points on paper
const kLongestWord = 14; // in letters, that a narrow screen need not break

// What a reader may set, WCAG 1.4.12: nothing may be lost by it. Letters of pictures keep their
// places: what they say stands in the text as well.
const kWideSpacing = `body *{line-height:1.5!important;letter-spacing:.12em!important;
  word-spacing:.16em!important} p{margin-bottom:2em!important}
  body svg *{letter-spacing:normal!important;word-spacing:normal!important}`;

export function openBrowser() {
  return chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-sync',
      '--disable-background-networking', '--disable-component-update'],
  });
}

// All pages in one run of the checker, which takes a second to start.
export function markupComplaints(files) {
  const said = execFileSync('java', ['-jar', kNu, '--format', 'json', '--stdout',
    '--exit-zero-always', ...files], { maxBuffer: 1 << 28, encoding: 'utf8' });
  return JSON.parse(said).messages.map((one) =>
    `${one.url}:${one.lastLine}:${one.lastColumn}: ${one.type}: ${one.message}`);
}

// Everything but the markup. `shots`, a path without ending, keeps a picture for each size.
export async function pageComplaints(browser, file, { shots } = {}) {
  const all = [];
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    const url = pathToFileURL(file).href;
    const say = (what) => all.push(`${file}: ${what}`);
    await context.route('**/*', (route) => {
      if (route.request().url() === url) return route.continue();
      say(`asks for ${route.request().url()}`);
      return route.abort();
    });
    page.on('pageerror', (error) => say(`a script fails: ${error}`));
    for (const [name, { width, height, media = 'screen' }] of Object.entries(kSizes)) {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ media });
      // Once more for the tablet, whose keyboard starts from the top of the page again.
      if (name === 'narrow' || name === 'tablet') await page.goto(url);
      for (const what of await page.evaluate(layoutComplaints,
        { smallest: kSmallestText, longest: kLongestWord })) {
        say(`${name}: ${what}`);
      }
      if (name === 'phone' || name === 'tablet') {
        for (const what of await axeComplaints(page)) say(`${name}: ${what}`);
        for (const what of await keyboardComplaints(page)) say(`${name}: ${what}`);
      }
      if (shots) await page.screenshot({ path: `${shots}-${name}.png`, fullPage: true });
      if (name === 'phone') {
        await page.addStyleTag({ content: kWideSpacing });
        for (const what of await page.evaluate(layoutComplaints,
          { smallest: kSmallestText, longest: 0 })) {
          say(`wide spacing: ${what}`);
        }
      }
    }
    if (shots) await page.pdf({ path: `${shots}.pdf`, format: 'A4' });
  } finally {
    await context.close();
  }
  return all;
}

// How many sheets of paper a page takes. @param format  'A4' or 'Letter'
export async function sheetsOfPaper(browser, file, format) {
  const page = await browser.newPage();
  try {
    await page.goto(pathToFileURL(file).href);
    const pdf = await page.pdf({ format });
    return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
  } finally {
    await page.close();
  }
}

async function axeComplaints(page) {
  await page.evaluate(kAxe);
  const { violations } = await page.evaluate(
    (tags) => globalThis.axe.run(document, { runOnly: { type: 'tag', values: tags } }), kTags);
  return violations.map((one) => `axe ${one.id}: ${one.help}: ${one.nodes[0].html.slice(0, 120)}`);
}

// Tab reaches every control, in order, and shows where it is.
async function keyboardComplaints(page) {
  const controls = await page.evaluate(() => {
    const found = [...document.querySelectorAll(
      'a[href], button, input, select, textarea, summary, [tabindex], [contenteditable]')]
      .filter((one) => one.checkVisibility());
    found.forEach((one, index) => one.setAttribute('data-control', index));
    return found.map((one) => one.outerHTML.slice(0, 80));
  });
  const complaints = [];
  for (const [index, html] of controls.entries()) {
    await page.keyboard.press('Tab');
    const { at, seen } = await page.evaluate(() => {
      const one = document.activeElement;
      const style = getComputedStyle(one);
      return {
        at: one.getAttribute('data-control'),
        seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
      };
    });
    if (at !== String(index)) {
      complaints.push(`Tab does not come to ${html}`);
      break;
    }
    if (!seen) complaints.push(`nothing shows that the keyboard is at ${html}`);
  }
  return complaints;
}

// Runs in the page: text that is cut, that lies on other text, that is too small, or off the page.
function layoutComplaints({ smallest, longest }) {
  const complaints = [];
  const root = document.scrollingElement;
  const width = root.clientWidth;
  if (root.scrollWidth > width) complaints.push(`is ${root.scrollWidth} wide, of ${width}`);
  const short = (text) => `"${text.trim().replace(/\s+/g, ' ').slice(0, 40)}"`;

  // For screen readers alone: one pixel, cut off.
  const isSpoken = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const box = at.getBoundingClientRect();
      if (getComputedStyle(at).clipPath !== 'none' && box.width <= 1 && box.height <= 1) return true;
    }
    return false;
  };
  const scaleOf = (element) => {
    const matrix = element.ownerSVGElement ? element.getScreenCTM() : null;
    return matrix ? Math.hypot(matrix.a, matrix.b) : 1;
  };
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const element = node.parentElement;
    if (!node.data.trim() || !element.checkVisibility() || isSpoken(element)) continue;
    if (['STYLE', 'SCRIPT', 'title', 'desc'].includes(element.tagName)) continue;
    const size = parseFloat(getComputedStyle(element).fontSize) * scaleOf(element);
    if (size < smallest - 0.05) complaints.push(`${size.toFixed(1)} px is small: ${short(node.data)}`);
    const range = document.createRange();
    // A word that any line has room for is broken nowhere.
    for (const word of node.data.matchAll(/[^\s/-]+(?=\s|$)/g)) {
      if (word[0].length > longest) continue;
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const tops = new Set([...range.getClientRects()].map((rect) => Math.round(rect.top)));
      if (tops.size > 1) complaints.push(`a word is broken: ${short(node.data)}`);
    }
    range.selectNodeContents(node);
    for (const rect of range.getClientRects()) {
      if (rect.width < 1) continue;
      if (rect.left < -1 || rect.right > width + 1) complaints.push(`off the page: ${short(node.data)}`);
      const svg = element.ownerSVGElement?.getBoundingClientRect();
      if (svg && (rect.left < svg.left - 1 || rect.right > svg.right + 1 || rect.top < svg.top - 2 ||
          rect.bottom > svg.bottom + 2)) {
        complaints.push(`out of its picture: ${short(node.data)}`);
      }
      for (let at = element; at && at !== document.body; at = at.parentElement) {
        const style = getComputedStyle(at);
        if (style.overflowX === 'visible' && style.overflowY === 'visible') continue;
        if (at.ownerSVGElement || at.tagName === 'svg') continue;
        const box = at.getBoundingClientRect();
        if (rect.right > box.right + 1 || rect.left < box.left - 1 || rect.bottom > box.bottom + 2) {
          complaints.push(`cut: ${short(node.data)}`);
        }
      }
      // Lines are set closer than their letters' full height: leave a sixth above and below.
      const inset = rect.height / 6;
      boxes.push({ left: rect.left + 1, right: rect.right - 1, top: rect.top + inset,
        bottom: rect.bottom - inset, text: node.data });
    }
  }
  boxes.sort((one, other) => one.top - other.top);
  for (let one = 0; one < boxes.length; ++one) {
    for (let other = one + 1; other < boxes.length; ++other) {
      if (boxes[other].top >= boxes[one].bottom) break;
      const across = Math.min(boxes[one].right, boxes[other].right) -
        Math.max(boxes[one].left, boxes[other].left);
      if (across > 1) {
        complaints.push(`lies on each other: ${short(boxes[one].text)}, ${short(boxes[other].text)}`);
      }
    }
  }
  return [...new Set(complaints)];
}
