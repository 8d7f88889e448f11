import {readdirSync, readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {adviceFor} from '../../source/faults/advice.ts';
import type {Fault} from '../../source/faults/fault.ts';
import {closestCodes, faults, findFault} from '../../source/faults/registry.ts';

const folder = new URL('../../source/faults/', import.meta.url);
const statuses = ['failure', 'out-of-spec', 'maintenance', 'function-check'];
const scopes = ['finger', 'stick', 'analog', 'button', 'link'];

/** The codes a reader of the documentation is promised, row by row. */
const promisedCodes = `
	floating-input stuck-low stuck-high stuck-mid dropout rough-track excess-noise mains-hum clipped-range narrow-span
	baseline-drift backlash coarse-steps reversed-sensor duplicate-channel crosstalk supply-ripple shared-ceiling
	wrong-full-scale settings-stale stick-off-centre stick-no-return stick-short-throw button-bounce button-floating button-held
	wrong-baud broken-frames slow-frames uneven-frames stall bursty-delivery lost-frames line-saturated device-restart
	stray-text silent port-lost swapped-channels stick-reversed stick-swapped
`
	.trim()
	.split(/\s+/);

function exportName(code: string): string {
	return code.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
}

/** Every string of an entry, with the path to it. */
function texts(value: unknown, path = ''): {path: string; text: string}[] {
	if (typeof value === 'string') return [{path, text: value}];
	if (typeof value !== 'object' || value === null) return [];
	return Object.entries(value).flatMap(([key, inner]) => texts(inner, path === '' ? key : `${path}.${key}`));
}

function isFault(value: unknown): value is Fault {
	return typeof value === 'object' && value !== null && 'code' in value && 'measurements' in value && 'ways' in value;
}

describe('the catalogue of findings', () => {
	it('lists every promised code once, in the order of the documentation', () => {
		// Findings that came later stand between them.
		expect(faults.map(({code}) => String(code)).filter(code => promisedCodes.includes(code))).toEqual(promisedCodes);
	});

	it('has one file per code, and no file the registry does not know', async () => {
		const missing: string[] = [];
		let met = 0;
		for (const file of readdirSync(folder).filter(name => name.endsWith('.ts'))) {
			const module: Record<string, unknown> = await import(new URL(file, folder).href);
			for (const [name, value] of Object.entries(module)) {
				if (!isFault(value)) continue;
				met++;
				if (file !== `${value.code}.ts`)
					missing.push(`${value.code} is defined in ${file}; move it to ${value.code}.ts`);
				if (name !== exportName(value.code)) missing.push(`${file} exports ${name}; name it ${exportName(value.code)}`);
				if (!faults.some(fault => fault === value))
					missing.push(`${file} is not in the list of all findings: npm run lists`);
			}
		}
		const files = readdirSync(folder);
		for (const {code} of faults) {
			if (!files.includes(`${code}.ts`)) missing.push(`${code} has no file; write source/faults/${code}.ts`);
		}
		expect(missing).toEqual([]);
		expect(met).toBe(faults.length);
	});
});

describe.each(faults.map(fault => [fault.code, fault] as const))('%s', (code, fault) => {
	it('says everything about itself', () => {
		const empty = texts(fault)
			.filter(({text}) => text.trim() === '' || text !== text.trim())
			.map(({path}) => path);
		expect(empty).toEqual([]);
		expect(statuses).toContain(fault.status);
		expect(scopes).toContain(fault.scope);
		expect(fault.causes.length).toBeGreaterThanOrEqual(3);
		expect(fault.measurements.length).toBeGreaterThanOrEqual(2);
		expect(fault.remedy.length).toBeGreaterThanOrEqual(1);
		expect(fault.title.length).toBeLessThanOrEqual(36);
	});

	it('gives every limit with its reason', () => {
		for (const {limits} of fault.ways)
			for (const {because} of Object.values(limits)) expect(because.length).toBeGreaterThan(20);
	});

	it('is written in printable text without traces of its making', () => {
		for (const {path, text} of texts(fault)) {
			// Anything below space, DEL, C1, or an invisible direction mark.
			expect(text, path).not.toMatch(/[\u0000-\u001F\u007F-\u009F\u200B-\u200F\u2028-\u202E\u2066-\u2069\uFEFF]/);
			expect(text, path).not.toMatch(/\b(?:shared\/|facts\.md|issue \d|TODO|FIXME)|(?<!check-values )\b[A-Z]\d{1,2}\)/);
		}
	});

	it('says first what to measure, on one line', () => {
		const advice = adviceFor(fault);
		expect(advice[0].length, advice[0]).toBeLessThanOrEqual(100);
		expect(advice[0]).toBe(`${fault.measurements[0].measure} — ${fault.measurements[0].expect}`);
		expect(advice.length).toBe(fault.measurements.length);
	});

	it('cautions where a step can hurt', () => {
		const steps = [
			...fault.causes,
			...fault.remedy,
			...fault.measurements.map(check => `${check.measure} ${check.expect}`),
		];
		const hazards: readonly (readonly [RegExp, RegExp])[] = [
			[/unplugged|solder/i, /unplug/i],
			[/lithium|battery is empty|charge;/i, /lithium/i],
			[/servo|motor/i, /motors/i],
			[/\bglu(?:e|ing)\b/i, /glue|unplug/i],
			[/3\.3 V board|5 V on a/i, /3\.6 V/],
			[/\bspring\b|loosen the spool/i, /spool/i],
			[/exchanged at the pot/i, /warm/i],
		];
		for (const [hazard, words] of hazards) {
			if (steps.some(step => hazard.test(step))) expect(fault.caution ?? '', `${code}: ${hazard}`).toMatch(words);
		}
	});
});

describe('statuses', () => {
	it('are decided with a reason beside each entry', () => {
		for (const {code, status} of faults) {
			const source = readFileSync(new URL(`${code}.ts`, folder), 'utf8');
			expect(source, code).toMatch(new RegExp(`/\\*\\* ${status}: .{10,}\\. \\*/`));
		}
	});
});

describe('findFault', () => {
	it('finds an entry by its exact code only', () => {
		expect(findFault('dropout')?.title).toBe('intermittent contact');
		expect(findFault('Dropout')).toBeUndefined();
		expect(findFault('__proto__')).toBeUndefined();
	});
});

describe('closestCodes', () => {
	it.each([
		['drop-out', 'dropout'],
		['stuck_low', 'stuck-low'],
		['STUCK HIGH', 'stuck-high'],
		['mains-hmu', 'mains-hum'],
		['hum', 'mains-hum'],
		['backlsh', 'backlash'],
		['floating', 'floating-input'],
		['stick-off-center', 'stick-off-centre'],
	])('takes %s for %s', (text, code) => {
		expect(closestCodes(text)).toContain(code);
	});

	it('suggests nothing for text that is near no code, and at most three codes', () => {
		expect(closestCodes('xylophone')).toEqual([]);
		expect(closestCodes('')).toEqual([]);
		expect(closestCodes('stick').length).toBe(3);
	});
});
