// Sheets in a browser: axe and html-validate clean, no sideways scrolling at 320 px, no script runs, no request leaves, A4 and Letter. The whole sheets are the kept
// ones, which tests/cli/sheet_golden_test.cpp holds the program to; the attacked ones are written anew. The JSON: tests/outside/json_schema.
// Usage: node look.mjs LEADLINE FOLDER-WITH-NODE-MODULES SOURCE-FOLDER
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';

const [leadline, folder, source] = process.argv.slice(2);
const require = createRequire(folder + '/');
const { chromium } = require('playwright-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const { HtmlValidate } = require('html-validate');

let failures = 0;
const expect = (holds, what) => { if (!holds) { failures++; console.log('FAILED: ' + what); } };
const sheet_of = (typed) => execFileSync(leadline, ['sheet', '--as', 'html', '-'], { input: typed, encoding: 'utf8', maxBuffer: 1 << 26 });

const words = (line) => line.replace(/\\u([0-9a-f]{4})/g, (_, code) => String.fromCharCode(parseInt(code, 16)));
const payloads = readFileSync(source + '/tests/outside/sheet/payloads.txt', 'utf8').split('\n').filter((line) => line !== '').map(words);
const xml = (text) => text.replace(/[&<>"']/g, (c) => `&#${c.codePointAt(0)};`);
// Twelve payloads at once in each free field: sixty need five sheets. Each field gets all of them.
const attacked = (some) => {
  const evil = xml(some.join(' '));
  return `<callout><title>${evil}</title><installation name="${evil}"><thruster name="${evil} t"/><station name="${evil} a" number="1"/><station name="${evil} b" number="2"/>` +
    '</installation><complaint finding="push" state="none"/></callout>';
};

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

async function look(name, html, judged) {
  const context = await browser.newContext({ viewport: { width: 320, height: 800 }, bypassCSP: false });
  const page = await context.newPage();
  const requests = [], dialogs = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('dialog', (dialog) => { dialogs.push(dialog.message()); dialog.dismiss(); });
  const path = `${folder}/out/${name}.html`;
  writeFileSync(path, html);
  await page.goto('file://' + path);
  await page.mouse.move(100, 100);
  expect(requests.length === 1, `${name}: asks for ${requests.slice(1)}`);
  expect(dialogs.length === 0, `${name}: opens a dialog`);
  expect(await page.evaluate(() => window.ran === undefined), `${name}: a script ran`);
  const active = await page.evaluate(() => {
    const found = [...document.querySelectorAll('script, iframe, object, embed, link, img, form, input, base, video, audio, a')].map((e) => e.tagName);
    for (const e of document.querySelectorAll('*')) for (const a of e.attributes) if (/^on/i.test(a.name)) found.push(a.name);
    return found;
  });
  expect(active.length === 0, `${name}: holds ${active}`);
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width <= 320, `${name}: ${width} px wide at 320`);
  if (judged) {
    for (const wide of [320, 1280]) {
      await page.setViewportSize({ width: wide, height: 800 });
      // axe is put in from outside, past the policy, as a tester's tool.
      const result = await (await browser.newContext({ bypassCSP: true, viewport: { width: wide, height: 800 } })).newPage().then(async (tester) => {
        await tester.goto('file://' + path);
        await tester.evaluate(axe);
        return tester.evaluate(() => window.axe.run(document));
      });
      expect(result.passes.length >= 10, `${name}: axe judged only ${result.passes.length} rules`);
      for (const v of result.violations) expect(false, `${name} at ${wide}: axe ${v.id}: ${v.nodes.map((n) => n.target + ' ' + n.failureSummary).slice(0, 3)}`);
      const cut = await page.evaluate(() => [...document.querySelectorAll('svg')].flatMap((svg) => [...svg.querySelectorAll('text')].filter((t) => {
        const box = t.getBBox(), room = svg.viewBox.baseVal;
        return box.x < -1 || box.x + box.width > room.width + 1 || box.y < -1 || box.y + box.height > room.height + 1;
      }).map((t) => t.textContent)));
      expect(cut.length === 0, `${name}: leaves its drawing: ${cut}`);
    }
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ path: `${folder}/out/${name}-${format}.pdf`, format });
      expect(pdf.length > 10000 && /^%PDF/.test(pdf.subarray(0, 5).toString('latin1')), `${name}: no ${format} page`);
    }
  }
  await context.close();
}

mkdirSync(folder + '/out', { recursive: true });
const validator = new HtmlValidate({ root: true, extends: ['html-validate:recommended'] });

for (const name of ['remedied', 'two-faults', 'nothing-known']) {
  const html = readFileSync(`${source}/tests/cli/sheets/${name}.html`, 'utf8');
  await look(name, html, true);
  const report = await validator.validateString(html);
  for (const result of report.results) for (const m of result.messages) expect(false, `${name}: html-validate ${m.line}:${m.column} ${m.ruleId}: ${m.message}`);
}

expect(payloads.length === 60, `${payloads.length} payloads`);
for (let at = 0; at < payloads.length; at += 12) {
  const html = sheet_of(attacked(payloads.slice(at, at + 12)));
  await look(`attack-${at / 12 + 1}`, html, false);
}
// That it can fail: the same page unescaped runs.
{
  const page = await browser.newPage();
  await page.setContent('<p><img src=x onerror="window.ran=1"></p>');
  await page.waitForFunction(() => window.ran === 1, null, { timeout: 5000 }).catch(() => expect(false, 'the browser runs no script at all: the test is blind'));
}
await browser.close();
console.log(failures === 0 ? 'sheets in a browser: all well' : `${failures} failures`);
process.exit(failures === 0 ? 0 : 1);
