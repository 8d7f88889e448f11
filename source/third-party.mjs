// The notices of every package whose code a bundle holds, as their licences ask for.
import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';

/** The folder of the package that a bundled file comes from; undefined for the project's own files. */
function packageFolder(file) {
	return /^(.*node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+)[\\/]/.exec(file)?.[1];
}

/** Texts of licences in a package: at its top, and of what it has bundled itself. */
function licenceTexts(folder) {
	const names = readdirSync(folder, {recursive: true, encoding: 'utf8'}).filter(
		name => /(?:^|[\\/])(?:licen[cs]es?|copying|notice)(?:[.-][^\\/]*)?$/i.test(name) && !/node_modules/.test(name),
	);
	return names.sort().flatMap(name => {
		try {
			return [readFileSync(path.join(folder, name), 'utf8').trim()];
		} catch {
			// A folder by that name.
			return [];
		}
	});
}

const ruler = '-'.repeat(79);

/** The MIT licence as SPDX gives it, for packages that name it and carry no text. */
const mit = `Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated
documentation files (the "Software"), to deal in the Software without restriction, including without limitation the
rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit
persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the
Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE
WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR
COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR
OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;

/**
 * Name, version, licence and notice of every package with code in the outputs of a build.
 *
 * @param metafiles What esbuild tells of its builds.
 * @throws Error for a package that says nothing of its licence: it may not be shipped.
 */
export function thirdPartyNotices(metafiles) {
	const folders = new Set();
	for (const {outputs} of metafiles) {
		for (const {inputs} of Object.values(outputs)) {
			for (const [file, {bytesInOutput}] of Object.entries(inputs)) {
				const folder = packageFolder(file);
				if (folder !== undefined && bytesInOutput > 0) folders.add(folder);
			}
		}
	}

	const notices = [...folders].sort().map(folder => {
		const {name, version, license, author, homepage} = JSON.parse(
			readFileSync(path.join(folder, 'package.json'), 'utf8'),
		);
		const texts = licenceTexts(folder);
		if (texts.length === 0 && license !== 'MIT') throw new Error(`${name} has no text of its licence (${license}).`);
		const by = typeof author === 'string' ? author : (author?.name ?? `the authors of ${name}`);
		if (texts.length === 0) texts.push(`Copyright (c) ${by}\n\n${mit}`);
		const about = [`${name} ${version}`, license, homepage].filter(Boolean).join(', ');
		return `${ruler}\n${about}\n\n${texts.join('\n\n')}\n`;
	});
	return `glovebench holds code of these packages, each under its own licence.\n\n${notices.join('\n')}`;
}
