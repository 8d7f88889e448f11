import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {type ExplainOptions, explainCommand} from '../../source/commands/explain.ts';
import {faults, findFault} from '../../source/faults/registry.ts';
import {symptoms} from '../../source/report/symptoms.ts';
import {expectToKeepTo} from '../report/published-schema.ts';
import {runCaptured} from './run-captured.ts';

const explain = (options: ExplainOptions, columns?: number) => runCaptured(explainCommand, options, {columns});

const flat = (text: string) => text.replace(/\s+/g, ' ');

describe('explain CODE', () => {
	it('says meaning, causes in order, what to measure, remedy and caution', async () => {
		const fault = findFault('stuck-high')!;
		const {status, text} = await explain({code: 'stuck-high'});
		expect(status).toBe(0);
		const words = flat(text);
		for (const part of [fault.definition, fault.physics, ...fault.remedy, fault.caution!]) {
			expect(words).toContain(part);
		}
		for (const [index, cause] of fault.causes.entries()) expect(words).toContain(`${index + 1}. ${cause}`);
		for (const {measure, expect: reads} of fault.measurements) expect(words).toContain(`${measure} → ${reads}`);
		expect(words).toContain('local rules');
	});

	it('says what every gate asks, with the limits that the check itself reads, where they come from, and when it closes', async () => {
		const words = flat((await explain({code: 'narrow-span'})).text);
		const [way] = findFault('narrow-span')!.ways;
		for (const gate of way.gates) {
			const limit = way.limits[gate.name];
			const asks =
				gate.kind === 'ground' || gate.kind === 'unless'
					? gate.asks
					: `${gate.kind === 'at most' ? 'at most' : 'at least'} ${limit.raise} ${limit.unit}`;
			const name = gate.name.replaceAll(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`);
			expect(words).toContain(`- ${name}: ${asks}`);
		}

		const {ratio} = way.limits;
		expect(words).toContain(
			`${ratio.because.replace(/\.$/, '')}. Found at ${ratio.must}, silent at ${ratio.mustNot} by definition;`,
		);
		expect(words).toContain(`an open finding closes at ${ratio.clear}.`);
	});

	it.each([80, 60, 40])('keeps within %i columns', async columns => {
		for (const {code} of faults) {
			const {text} = await explain({code, columns});
			for (const line of text.split('\n')) expect(line.length, `${code}: ${line}`).toBeLessThanOrEqual(columns);
		}
	});

	it('does not stretch lines over a very wide terminal', async () => {
		const {text} = await explain({code: 'dropout', columns: 400});
		expect(Math.max(...text.split('\n').map(line => line.length))).toBeLessThanOrEqual(100);
	});

	it('takes a code in capitals', async () => {
		expect((await explain({code: 'Mains-Hum'})).text).toContain('mains-hum: mains pickup');
	});

	it('says of a bring-up finding who looks for it', async () => {
		expect((await explain({code: 'stick-swapped'})).text).toContain('bring-up routine');
	});

	it('prints ASCII only when asked', async () => {
		expect((await explain({code: 'supply-ripple', ascii: true})).text).toMatch(/^[\n -~]+$/);
	});
});

describe('explain with a misspelt code', () => {
	it('suggests the nearest code in one line', async () => {
		const error = await explain({code: 'stuk-low'}).catch((error: unknown) => error);
		expect(error).toBeInstanceOf(CannotError);
		const {message} = error as CannotError;
		expect(message).toContain('Unknown finding "stuk-low". Did you mean stuck-low');
		expect(message).not.toContain('\n');
	});

	it('names the list where no code is near', async () => {
		await expect(explain({code: 'zebra\u001b[31m\nx'})).rejects.toThrow(
			/^Unknown finding "zebra\\u001b\[31m\\nx"\. All codes: glovebench explain$/,
		);
	});
});

describe('explain without a code', () => {
	it('lists every code with its status and title', async () => {
		const lines = (await explain({}, 80)).text.split('\n');
		for (const {code, status, title} of faults) {
			expect(lines.some(line => line.startsWith(`${code} `) && line.includes(status) && line.includes(title))).toBe(
				true,
			);
		}
	});

	it('explains every one with --all', async () => {
		const words = flat((await explain({all: true})).text);
		for (const fault of faults) expect(words).toContain(fault.physics);
	});
});

describe('explain --json', () => {
	it('prints the entry with its advice', async () => {
		const {findings} = JSON.parse((await explain({code: 'dropout', json: true})).text);
		expect(findings).toHaveLength(1);
		expect(findings[0]).toMatchObject({code: 'dropout', status: 'out-of-spec', scope: 'analog'});
		expect(findings[0].advice[0]).toContain(findings[0].measurements[0].measure);
	});

	it('carries every limit, and keeps to its schema', async () => {
		const json = JSON.parse((await explain({code: 'narrow-span', json: true})).text);
		expectToKeepTo('explain', json);
		const [way] = findFault('narrow-span')!.ways;
		const limits = json.findings[0].ways[0].gates.filter(({limit}: {limit: object | null}) => limit !== null);
		expect(limits.map(({gate, limit}: {gate: string; limit: object}) => [gate, limit])).toEqual(
			Object.entries(way.limits).map(([name, limit]) => [name, {clear: limit.raise, ...limit}]),
		);
	});

	it('prints all entries without a code', async () => {
		const json = JSON.parse((await explain({json: true})).text);
		expectToKeepTo('explain', json);
		const {schema, kind, findings} = json;
		expect([schema, kind]).toEqual([2, 'explain']);
		expect(findings.map((entry: {code: string}) => entry.code)).toEqual(faults.map(fault => fault.code));
	});

	it('prints each code alone for a chat in less than 2,000 characters, and as a page to read, not to edit', async () => {
		for (const {code} of faults) {
			const {text} = await explain({code, markdown: true});
			expect(text.length, code).toBeLessThan(2000);
			expect(text, code).not.toMatch(/do not edit/i);
			expect(text.startsWith(`## ${code}\n`)).toBe(true);
		}
	});

	it('has every code under one thing that a builder sees', () => {
		expect(symptoms.flatMap(({codes}) => codes).sort()).toEqual(faults.map(({code}) => code).sort());
	});

	it('finds codes by what is seen', async () => {
		for (const [symptom, code] of [
			['ring jumps', 'dropout'],
			['crackles', 'rough-track'],
			['moves against the others', 'reversed-sensor'],
			['nothing arrives', 'silent'],
			['board restarted', 'device-restart'],
			['hum', 'mains-hum'],
		]) {
			const {text} = await explain({symptom});
			expect(text, symptom).toContain(code);
		}
		await expect(explain({symptom: 'xyzzy'})).rejects.toThrow(/No finding is told in such words/);
	});
});
