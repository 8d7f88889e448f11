import {isDeepStrictEqual} from 'node:util';
import {beforeAll, describe, expect, it} from 'vitest';
import {Checkpoint} from '../../source/dashboard/checkpoint.ts';
import {Features} from '../../source/features/features.ts';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {floatingRing, playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: 115200} as const;
const items = playGlove(floatingRing);
const playOn = (session: Session, from: number, to: number, given: readonly SourceItem[] = items) => {
	for (const item of given) if (item.t >= from && item.t < to) session.push(item);
	return session;
};

describe('Checkpoint', () => {
	let original: Session;
	const checkpoints: Checkpoint[] = [];

	beforeAll(() => {
		original = new Session(options);
		checkpoints.push(new Checkpoint(original));
		for (const t of [5, 10, 20, 30]) {
			playOn(original, t === 5 ? 0 : t === 10 ? 5 : t - 10, t);
			checkpoints.push(new Checkpoint(original, checkpoints.at(-1)));
		}
	});

	it('puts a session into the state it was taken of, whatever the session did before', () => {
		const session = playOn(new Session(options), 0, 33);
		for (const [place, t] of [
			[3, 20],
			[1, 5],
			[4, 30],
			[0, 0],
			[2, 10],
		]) {
			checkpoints[place].restoreInto(session);
			const expected = playOn(new Session(options), 0, t);
			expect(session.snapshot()).toEqual(expected.snapshot());
			// Every number, also those that only what comes later would show.
			expect(isDeepStrictEqual(session, expected)).toBe(true);
			expect(playOn(session, t, t + 6).snapshot()).toEqual(playOn(expected, t, t + 6).snapshot());
		}
	});

	it('is not changed by what the session goes through', () => {
		const before = new Session(options);
		checkpoints[3].restoreInto(before);
		playOn(before, 20, 35);
		playOn(original, 30, 39);
		const after = new Session(options);
		checkpoints[3].restoreInto(after);
		expect(isDeepStrictEqual(after, playOn(new Session(options), 0, 20))).toBe(true);
	});

	it('keeps classes, shares nothing, and a reference that occurs twice stays one', () => {
		const restored = new Session(options);
		checkpoints[3].restoreInto(restored);
		expect(restored.features).toBeInstanceOf(Features);
		expect(restored.features.history.columns[0]).not.toBe(original.features.history.columns[0]);
		expect(restored.features.link).toBe(restored.link);
		expect(restored.link).not.toBe(original.link);
	});

	it('leaves snapshots of before as they were', () => {
		const session = playOn(new Session(options), 0, 30);
		const kept = session.snapshot();
		const copy = structuredClone(kept);
		checkpoints[1].restoreInto(session);
		playOn(session, 5, 38);
		expect(kept).toEqual(copy);
		expect(kept.findings.map(({code}) => code)).toContain('floating-input');
	});

	it('holds across a change of layout', () => {
		const changed = [...items.filter(({t}) => t < 8)];
		for (let n = 0; n < 800; n++) {
			const t = 8 + n / 100;
			changed.push({t, bytes: Buffer.from(`thumb:${400 + Math.round(300 * Math.sin(t))} index:${n % 7}\r\n`)});
		}

		const session = new Session(options);
		const stops = [3, 6, 12, 15.5].map((t, index, all) => {
			playOn(session, all[index - 1] ?? 0, t, changed);
			return {t, checkpoint: new Checkpoint(session)};
		});
		expect(session.layoutNow?.channels).toHaveLength(2);
		const other = new Session(options);
		for (const {t, checkpoint} of [stops[3], stops[0], stops[2], stops[1]]) {
			checkpoint.restoreInto(other);
			expect(isDeepStrictEqual(other, playOn(new Session(options), 0, t, changed))).toBe(true);
		}
	});
});
