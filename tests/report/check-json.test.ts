import {describe, expect, it} from 'vitest';
import {checkJson, terminalSafeJson} from '../../source/report/check-json.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {expectToKeepTo, keepsTo} from './published-schema.ts';
import {fingerView, sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

/** The report as whoever reads the output has it. */
function printed(snapshot: Snapshot) {
	return JSON.parse(JSON.stringify(checkJson(snapshot, sampleInfo)));
}

describe('check --json', () => {
	it('prints what the published schema describes', () => {
		const faulty = sampleSnapshot({findings: [sampleFinding()], verdict: 'fail'});
		for (const snapshot of [sampleSnapshot(), faulty]) {
			expectToKeepTo('check', printed(snapshot));
		}
	});

	it('is refused by the schema when a field is missing, renamed or of another kind', () => {
		const good = printed(sampleSnapshot({findings: [sampleFinding()]}));
		const {verdict: _, ...noVerdict} = good;
		expect(keepsTo('check', noVerdict)).toBe(false);
		expect(keepsTo('check', {...good, schema: 1})).toBe(false);
		expect(keepsTo('check', {...good, verdict: 'perfect'})).toBe(false);
		const {mended: _mended, ...noWord} = good.findings[0];
		expect(keepsTo('check', {...good, findings: [noWord]})).toBe(false);
		expect(keepsTo('check', {...good, findings: [{...good.findings[0], from: 'two'}]})).toBe(false);
		expect(keepsTo('check', {...good, findings: [{...good.findings[0], status: 'broken'}]})).toBe(false);
		expect(keepsTo('check', {...good, extra: 1})).toBe(false);
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
		const json = printed(empty);
		expectToKeepTo('check', json);
		expect(json.layout).toEqual({framing: 'text', separator: null, channels: []});
	});

	it('writes null, never NaN, for a channel without a reading', () => {
		const none = fingerView(0, 'thumb', {min: Number.NaN, max: Number.NaN, mean: Number.NaN, span: null});
		const json = printed(sampleSnapshot({channels: [none]}));
		expect(json.channels[0]).toMatchObject({min: null, max: null, mean: null, span: null});
		expectToKeepTo('check', json);
	});

	it('tells states, what every check has seen, calm notes, and where a recording breaks off', () => {
		const waiting = {
			code: 'backlash',
			channel: 'ring',
			state: 'waiting',
			seen: 2,
			needed: 4,
			next: 'open and close',
		} as const;
		const json = printed(
			sampleSnapshot({
				channels: [
					fingerView(0, 'thumb', {state: 'learning'}),
					fingerView(1, 'index', {state: 'proven', learnedUntil: 3.4}),
				],
				checks: [waiting],
				notes: ['1 input open: nothing wired yet (ring)'],
				events: [{t: 31, event: 'truncated'}],
				verdict: 'unproven',
			}),
		);
		expectToKeepTo('check', json);
		expect(
			json.channels.map(({state, learnedUntil}: {state: string; learnedUntil: number | null}) => [state, learnedUntil]),
		).toEqual([
			['learning', null],
			['proven', 3.4],
		]);
		expect(json.checks).toEqual([waiting]);
		expect(json.intake.notes).toEqual(['1 input open: nothing wired yet (ring)']);
		expect(json.source.cut).toBe(true);
		expect(json.sessions).toEqual([{index: 1, from: 0, to: 32, verdict: 'unproven', findings: 0}]);
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
