import {readFileSync} from 'node:fs';
import {Ajv2020} from 'ajv/dist/2020.js';
import {describe, expect, it} from 'vitest';
import {checkJson, terminalSafeJson} from '../../source/report/check-json.ts';
import {fingerView, sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

const schema = JSON.parse(readFileSync(new URL('../../docs/check.schema.json', import.meta.url), 'utf8'));
// An independent validator of the published schema language (JSON Schema 2020-12).
const ajv = new Ajv2020({allErrors: true, strict: true, allowUnionTypes: true});
const isValid = ajv.compile(schema);

describe('check --json', () => {
	it('prints what the published schema describes', () => {
		const faulty = sampleSnapshot({findings: [sampleFinding()], verdict: 'fail'});
		for (const snapshot of [sampleSnapshot(), faulty]) {
			isValid(JSON.parse(JSON.stringify(checkJson(snapshot, sampleInfo))));
			expect(isValid.errors).toBeNull();
		}
	});

	it('is refused by the schema when a field is missing, renamed or of another kind', () => {
		const good = JSON.parse(JSON.stringify(checkJson(sampleSnapshot({findings: [sampleFinding()]}), sampleInfo)));
		const {verdict: _, ...noVerdict} = good;
		expect(isValid(noVerdict)).toBe(false);
		expect(isValid({...good, schema: 2})).toBe(false);
		expect(isValid({...good, findings: [{...good.findings[0], from: 'two'}]})).toBe(false);
		expect(isValid({...good, findings: [{...good.findings[0], status: 'broken'}]})).toBe(false);
		expect(isValid({...good, extra: 1})).toBe(false);
	});

	it('stays valid where nothing was read: no layout, no figure', () => {
		const {link} = sampleSnapshot();
		const empty = sampleSnapshot({
			t: 0,
			layout: null,
			channels: [],
			link: {
				...link,
				frames: 0,
				bytes: 0,
				framesPerSecond: null,
				intervalMs: null,
				jitterMs: null,
				bytesPerSecond: null,
				lineLoad: null,
			},
		});
		const json = JSON.parse(JSON.stringify(checkJson(empty, sampleInfo)));
		isValid(json);
		expect(isValid.errors).toBeNull();
		expect(json.layout).toEqual({framing: 'text', separator: null, channels: []});
	});

	it('writes null, never NaN, for a channel without a reading', () => {
		const none = fingerView(0, 'thumb', {min: Number.NaN, max: Number.NaN, mean: Number.NaN, span: null});
		const json = JSON.parse(JSON.stringify(checkJson(sampleSnapshot({channels: [none]}), sampleInfo)));
		expect(json.channels[0]).toMatchObject({min: null, max: null, mean: null, span: null});
		isValid(json);
		expect(isValid.errors).toBeNull();
	});

	it('gives findings to the digit and other figures to six', () => {
		const finding = sampleFinding({evidence: {rms: 4.123456789}, from: 2.1234});
		const json = checkJson(
			sampleSnapshot({findings: [finding], channels: [fingerView(0, 'thumb', {mean: 480.123456789})]}),
			sampleInfo,
		);
		expect(json.findings[0]).toMatchObject({from: 2.1234, evidence: {rms: 4.123456789}});
		expect(json.channels[0].mean).toBe(480.123);
	});

	it('escapes what a terminal would obey, and stays the same value', () => {
		const hostile = {name: 'a\u009b31m\u007f\u202e\u001b[2J\ufeff'};
		const text = terminalSafeJson(hostile);
		expect(text).toMatch(/^[\x20-\x7e]*$/);
		expect(JSON.parse(text)).toEqual(hostile);
	});
});
