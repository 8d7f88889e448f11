import {describe, expect, it} from 'vitest';
import {notJudgedText} from '../../source/report/not-judged-text.ts';
import type {CheckRow} from '../../source/session/snapshot.ts';
import {fingerNames, fingerView} from './sample-run.ts';

const channels = [fingerView(0, 'thumb'), fingerView(1, 'index', {state: 'waiting'})];

function row(code: string, channel: string | null, next: string | null): CheckRow {
	return {code, channel, state: next === null ? 'clear' : 'waiting', seen: 0, needed: next === null ? 0 : 4, next};
}

describe('what is not judged yet', () => {
	it('is nothing where nothing waits', () => {
		expect(notJudgedText({channels, checks: [row('dropout', 'thumb', null)]})).toBe('');
	});

	it('is told movement by movement, the one that shows most first', () => {
		const checks = [
			row('stick-no-return', 'stick-x', 'push the stick and let go'),
			...['narrow-span', 'backlash', 'baseline-drift', 'reversed-sensor'].flatMap(code =>
				fingerNames.map(name => row(code, name, 'open and close the hand')),
			),
		];
		expect(notJudgedText({channels, checks})).toBe(
			'Not judged yet: 4 checks on all fingers (open and close the hand), stick-no-return on stick-x (push the stick and let go).',
		);
	});

	it('calls a stick the stick, and says how far a movement has come', () => {
		const stick = ['stick-x', 'stick-y'].map((name, i) => fingerView(5 + i, name, {role: 'stick'}));
		const checks = [
			...['stick-no-return', 'stick-short-throw', 'stick-off-centre'].map(code =>
				row(code, 'stick-x', 'turn it round twice'),
			),
			{...row('narrow-span', 'index', 'open and close the whole hand'), seen: 2, needed: 6},
		];
		expect(notJudgedText({channels: [...channels, ...stick], checks})).toBe(
			'Not judged yet: stick (turn it round twice), narrow-span on index (open and close the whole hand, 2 of 6 so far).',
		);
	});

	it('is told once of channels that wait for the same movement of their own', () => {
		const checks = ['thumb', 'index'].map(name => row('rough-track', name, `bend ${name} slowly`));
		expect(notJudgedText({channels, checks})).toBe(
			'Not judged yet: rough-track on all fingers (bend thumb and index slowly).',
		);
	});

	it('counts movements beyond the third', () => {
		const checks = Array.from({length: 6}, (_, i) => row(`code-${i}`, null, `movement ${i}`));
		expect(notJudgedText({channels, checks})).toMatch(
			/code-2 \(movement 2\), and what 3 other movements would show\.$/,
		);
	});

	it('asks of a finger that moves no more movement to show that it is not stuck', () => {
		const checks = ['thumb', 'index'].map(name => row('stuck-mid', name, 'open and close the hand twice'));
		expect(notJudgedText({channels, checks})).toBe(
			'Not judged yet: stuck-mid on index (open and close the hand twice).',
		);
		expect(notJudgedText({channels, checks: checks.slice(0, 1)})).toBe('');
	});
});
