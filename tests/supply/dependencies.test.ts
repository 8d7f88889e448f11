import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {describe, expect, it} from 'vitest';

const root = new URL('../..', import.meta.url).pathname;
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');
const manifest = JSON.parse(read('package.json')) as Record<string, Record<string, string>>;

type Locked = {
	readonly version?: string;
	readonly integrity?: string;
	readonly resolved?: string;
	readonly dev?: boolean;
	readonly hasInstallScript?: boolean;
	readonly dependencies?: Readonly<Record<string, string>>;
	readonly devDependencies?: Readonly<Record<string, string>>;
};

const locked = JSON.parse(read('package-lock.json')) as {
	readonly lockfileVersion: number;
	readonly packages: Readonly<Record<string, Locked>>;
};
const packages = Object.entries(locked.packages).filter(([place]) => place !== '');

/** Packages in the table under a heading of the page, each with its reason. */
function documented(heading: string): Map<string, string> {
	const part = read('docs/dependencies.md').split(`## ${heading}\n`)[1]?.split('\n## ')[0] ?? '';
	return new Map([...part.matchAll(/^\| `([^`]+)` \| (.+) \|$/gm)].map(([, name, reason]) => [name, reason]));
}

function filesUnder(folder: string, endings: RegExp): string[] {
	return readdirSync(path.join(root, folder), {recursive: true, encoding: 'utf8'})
		.filter(name => endings.test(name) && !name.includes('node_modules'))
		.map(name => read(path.join(folder, name)));
}

const names = (text: string, name: string) =>
	new RegExp(`(?:from|import|import\\(|require\\()\\s*['"]${name.replace(/[/.]/g, '\\$&')}(?:/[^'"]*)?['"]`).test(text);

const program = filesUnder('source', /\.tsx?$/);
const isUsedBy = (texts: readonly string[], name: string) => texts.some(text => names(text, name));

describe('docs/dependencies.md', () => {
	it('gives a reason for every package of package.json, and for no other', () => {
		const all = [...Object.keys(manifest.dependencies), ...Object.keys(manifest.devDependencies)].sort();
		expect([...documented('In the program').keys()]).toEqual(all.filter(name => isUsedBy(program, name)));
		expect([...documented('To build and to check').keys()]).toEqual(all.filter(name => !isUsedBy(program, name)));
	});
});

describe('package.json', () => {
	const checks = [...filesUnder('tests', /\.(?:tsx?|mjs)$/), ...filesUnder('recordings', /\.mjs$/)];

	it('makes nobody install what is bundled: only the serial bindings, which are addons', () => {
		expect(Object.keys(manifest.dependencies)).toEqual(['serialport']);
		expect(isUsedBy(program, 'serialport')).toBe(true);
	});

	it('has no bundled package that the program does not name', () => {
		for (const name of documented('In the program').keys()) expect(isUsedBy(program, name), name).toBe(true);
	});

	it('has no package that no check and no tool uses', () => {
		// Those that are run, not imported: by package.json's scripts, or by the type checker.
		const isRun = (name: string) => name.startsWith('@types/') || ['@biomejs/biome', 'typescript'].includes(name);
		const sources = [...checks, ...program, read('source/build.mjs')];
		for (const name of Object.keys(manifest.devDependencies).filter(each => !isRun(each))) {
			expect(
				sources.some(text => names(text, name) || text.includes(`'${name}`)),
				name,
			).toBe(true);
		}
	});
});

describe('package-lock.json', () => {
	it('locks what package.json asks for', () => {
		expect(locked.lockfileVersion).toBe(3);
		expect(locked.packages[''].dependencies).toEqual(manifest.dependencies);
		expect(locked.packages[''].devDependencies).toEqual(manifest.devDependencies);
	});

	it('pins every package with a SHA-512 digest, and takes none from an address of its own', () => {
		expect(packages.length).toBeGreaterThan(100);
		for (const [place, {integrity, version, resolved}] of packages) {
			expect(integrity, place).toMatch(/^sha512-[A-Za-z0-9+/]{86}==$/);
			expect(version, place).toMatch(/^\d+\.\d+\.\d+/);
			expect(resolved, place).toBeUndefined();
		}
	});

	it('holds few packages that the program needs to run', () => {
		// 19 when this was written, all of them of serialport: a jump wants a look.
		expect(packages.filter(([, {dev}]) => !dev).length).toBeLessThanOrEqual(24);
	});

	it('has no install script but two that are not needed: the serial addon and esbuild come built', () => {
		const scripted = packages.filter(([, {hasInstallScript}]) => hasInstallScript).map(([place]) => place);
		expect(scripted.map(place => place.replace('node_modules/', '')).sort()).toEqual([
			'@serialport/bindings-cpp',
			'esbuild',
		]);
		const built = readdirSync(path.join(root, 'node_modules/@serialport/bindings-cpp/prebuilds'));
		for (const system of ['linux-x64', 'linux-arm64', 'win32-x64']) expect(built).toContain(system);
		expect(built.some(name => name.startsWith('darwin'))).toBe(true);
		expect(read('.ci/run')).toMatch(/^npm ci --ignore-scripts /m);
	});
});
