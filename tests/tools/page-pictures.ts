// Pictures of pages for people to look at: phone and desktop, light and dark and without colour, in pieces of a height that can be read,
// and the page as it is printed.
// Usage: node tests/tools/run.mjs tests/tools/page-pictures.ts FOLDER PAGE.html…
import {mkdirSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {Browser, hasBrowser, type Look} from './open-browser.ts';

const looks: Readonly<Record<string, Look & {readonly pieceHeight: number}>> = {
	phone: {widthPixels: 390, heightPixels: 844, isPhone: false, pieceHeight: 1600},
	'phone-dark': {widthPixels: 390, heightPixels: 844, isPhone: false, scheme: 'dark', pieceHeight: 1600},
	desktop: {widthPixels: 1280, heightPixels: 900, pieceHeight: 1800},
	'desktop-grey': {widthPixels: 1280, heightPixels: 900, vision: 'achromatopsia', pieceHeight: 1800},
	'desktop-dark': {widthPixels: 1280, heightPixels: 900, scheme: 'dark', pieceHeight: 1800},
};

const [folder, ...pages] = process.argv.slice(2);
if (!hasBrowser || folder === undefined || pages.length === 0) {
	process.stderr.write('Name a folder for the pictures and the pages, on a machine with /usr/bin/chromium.\n');
	process.exit(2);
}
mkdirSync(folder, {recursive: true});
const browser = new Browser();
for (const file of pages) {
	const name = path.basename(file, '.html');
	for (const [look, {pieceHeight, ...options}] of Object.entries(looks)) {
		const page = await browser.open(file, options);
		const [width, height] = (await page.evaluate(
			'[document.documentElement.scrollWidth, document.documentElement.scrollHeight]',
		)) as [number, number];
		for (let y = 0, piece = 1; y < height; y += pieceHeight, piece++) {
			const picture = await page.screenshot(y, options.widthPixels ?? width, Math.min(pieceHeight, height - y));
			writeFileSync(path.join(folder, `${name}-${look}-${piece}.png`), picture);
		}
		if (look === 'desktop') writeFileSync(path.join(folder, `${name}.pdf`), await page.print());
		console.log(
			`${name} ${look}: ${width} × ${height}, asked for ${page.asked.length}, complained ${page.said.length} times`,
		);
		await page.close();
	}
}
await browser.close();
