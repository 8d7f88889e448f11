import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import type {EvidenceName} from '../../../source/faults/evidence.ts';
import {bringUpPage} from '../../../source/report/html/bring-up-page.ts';
import {comparisonPage} from '../../../source/report/html/comparison-page.ts';
import {htmlReport} from '../../../source/report/html/page.ts';
import {runSession} from '../../../source/session/run-session.ts';
import {demoSpec} from '../../../source/simulator/demo.ts';
import {simulatorSource} from '../../../source/sources/simulator-source.ts';
import {Browser, browserPath, hasBrowser, type Look} from '../../tools/open-browser.ts';
import {fingerView, sampleFinding, sampleInfo, sampleRun, sampleSnapshot} from '../sample-run.ts';
import {comparedSamples, finishedBringUp, hostile} from './sample-pages.ts';

if (!hasBrowser) console.info(`${browserPath} is not there: pages are not opened in a browser.`);

/** A script to be put into a page. */
const axeSource = `${readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8')};0`;

const phone: Look = {widthPixels: 390, heightPixels: 844, isPhone: true};
const desktop: Look = {widthPixels: 1280, heightPixels: 900};
const looks: readonly (readonly [string, Look])[] = [
	['a phone, light', {...phone, scheme: 'light'}],
	['a phone, dark', {...phone, scheme: 'dark'}],
	['a desktop, light', {...desktop, scheme: 'light'}],
	['a desktop, dark', {...desktop, scheme: 'dark'}],
];

/**
 * Lowest contrast of any text against the page's background, and the smallest text as it is drawn, in CSS pixels.
 * Contrast as WCAG 2.2 defines it (relative luminance of sRGB), worked out here from what the browser computed.
 */
const readability = `(() => {
	const channels = text => text.match(/[\\d.]+/g).slice(0, 3).map(Number);
	const luminance = rgb => {
		const [r, g, b] = rgb.map(c => c / 255).map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
		return 0.2126 * r + 0.7152 * g + 0.0722 * b;
	};
	const paper = luminance(channels(getComputedStyle(document.body).backgroundColor));
	let contrast = Infinity, size = Infinity, counted = 0;
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walker.nextNode()) {
		const {parentElement: element, textContent} = walker.currentNode;
		if (!textContent.trim() || element.closest('title, .hidden')) continue;
		const style = getComputedStyle(element);
		const isDrawn = element instanceof SVGElement;
		const ink = luminance(channels(isDrawn ? style.fill : style.color));
		contrast = Math.min(contrast, (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05));
		const scale = isDrawn ? element.getScreenCTM().a : 1;
		size = Math.min(size, parseFloat(style.fontSize) * scale);
		counted++;
	}
	return {contrast, size, counted, page: document.documentElement.scrollWidth, window: innerWidth};
})()`;

describe.skipIf(!hasBrowser)('pages in a browser', () => {
	let browser: Browser;
	const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-pages-'));
	const pages = new Map<string, string>();

	const fileOf = (name: string, page: string) => {
		const file = path.join(folder, `${name}.html`);
		writeFileSync(file, page);
		return file;
	};

	beforeAll(async () => {
		browser = new Browser();
		const demo = await runSession(simulatorSource(demoSpec(60), {paced: false}));
		const {comparison, a, b} = await comparedSamples('healthy', 'dropout');
		pages.set('session', fileOf('session', htmlReport(demo)));
		pages.set('comparison', fileOf('comparison', comparisonPage(comparison, a, b)));
		pages.set('bring-up', fileOf('bring-up', bringUpPage(await finishedBringUp('bringup-swapped-reversed'))));
	});

	afterAll(async () => {
		await browser?.close();
		rmSync(folder, {recursive: true, force: true});
	});

	it.each(['session', 'comparison', 'bring-up'])(
		'opens the %s without a complaint, asks for nothing, and can be read on phone and desktop, light and dark',
		async name => {
			for (const [where, look] of looks) {
				const page = await browser.open(pages.get(name) ?? '', look);
				expect(page.said, where).toEqual([]);
				expect(page.asked, where).toEqual([`file://${pages.get(name)}`]);
				const seen = (await page.evaluate(readability)) as Record<string, number>;
				expect(seen.counted, where).toBeGreaterThan(200);
				// Nothing is wider than the window: no scrolling sideways but inside tables.
				expect(seen.page, where).toBeLessThanOrEqual(seen.window);
				// WCAG 2.2, 1.4.3: 4.5:1 for text.
				expect(seen.contrast, where).toBeGreaterThanOrEqual(4.5);
				// Eight pixels of a phone are 1.3 mm, newspaper print (common practice, no source).
				expect(seen.size, where).toBeGreaterThanOrEqual(8);
				await page.close();
			}
		},
		60_000,
	);

	it.each(['session', 'comparison', 'bring-up'])(
		'shows nothing in the %s that axe-core, an independent checker of WCAG, objects to; what scrolls is reached by keyboard',
		async name => {
			// The page's own policy lets no script in; axe is put in by the debugger.
			const page = await browser.open(pages.get(name) ?? '', phone);
			await page.evaluate(axeSource);
			const found = (await page.evaluate(
				'axe.run().then(({violations, passes}) => ({violations: violations.map(({id, nodes}) => [id, ...nodes.slice(0, 3).map(({html}) => html.slice(0, 120))]), passed: passes.length}))',
			)) as {violations: string[][]; passed: number};
			expect(found.violations).toEqual([]);
			expect(found.passed).toBeGreaterThan(10);
			const unreached = await page.evaluate(
				"[...document.querySelectorAll('*')].filter(e => e.scrollWidth > e.clientWidth + 1 && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX) && e.tabIndex !== 0).map(e => e.outerHTML.slice(0, 80))",
			);
			expect(unreached).toEqual([]);
			await page.close();
		},
		60_000,
	);

	it('prints on few sheets', async () => {
		for (const [name, sheets] of [
			['session', 8],
			['comparison', 5],
			['bring-up', 4],
		] as const) {
			const page = await browser.open(pages.get(name) ?? '', desktop);
			const printed = (await page.print()).toString('latin1');
			expect(printed.match(/\/Type \/Page\b/g)?.length, name).toBeLessThanOrEqual(sheets);
			await page.close();
		}
	});

	it('runs and fetches nothing that a hostile recording holds', async () => {
		const bad = htmlReport(
			sampleRun(
				sampleSnapshot({
					channels: [fingerView(0, hostile)],
					findings: [
						sampleFinding({channel: hostile, summary: hostile, evidence: {[hostile as EvidenceName]: hostile}}),
					],
					marks: [{t: 1, mark: hostile}],
				}),
				{...sampleInfo, note: hostile},
				hostile,
			),
		);
		const file = fileOf('hostile', bad);
		const page = await browser.open(file, desktop);
		expect(await page.evaluate('document.title')).toBe('PASS: left-glove.gbrec');
		expect(await page.evaluate('document.querySelectorAll("script, img, iframe, object, embed, link").length')).toBe(0);
		expect(await page.evaluate('document.querySelectorAll("style").length')).toBe(1);
		expect(page.said).toEqual([]);
		expect(page.asked).toEqual([`file://${file}`]);
		await page.close();
	});

	it('would be stopped by its policy if escaping failed', async () => {
		const broken = htmlReport(sampleRun(sampleSnapshot())).replace(
			'</body>',
			'<script>document.title = "owned"</script><img src="https://b.invalid/x.png"><p style="color:red" onclick="1">x</p></body>',
		);
		const page = await browser.open(fileOf('broken', broken), desktop);
		expect(await page.evaluate('document.title')).toBe('PASS: left-glove.gbrec');
		for (const kind of ['inline script', 'image', 'inline style']) {
			expect(page.said.join('\n').toLowerCase(), kind).toContain(kind);
		}

		expect(page.said.join('\n')).toMatch(/Content Security Policy/);
		await page.close();
	});
});
