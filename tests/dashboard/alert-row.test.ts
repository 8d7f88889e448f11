import {describe, expect, it} from 'vitest';
import {alertRow} from '../../source/dashboard/alert-row.ts';
import {type Row, rowText} from '../../source/screen/rows.ts';
import {healthy, makeFinding, makePicture, withChannel} from './sample-picture.ts';

const calm = {...healthy, findings: [], events: [], notes: []};
/** The row, empty where nothing presses. */
const alertOf = (...given: Parameters<typeof alertRow>): Row => alertRow(...given) ?? [];
const at = (t: number, findings = [makeFinding({from: 10, flaggedAt: 12})]) => ({...calm, t, findings});

describe('alertRow', () => {
	it('holds a new finding up, inverse and in words, for ten seconds of stream time', () => {
		const row = alertOf(makePicture(at(21)));
		expect(row[0].tone).toBe('alert');
		expect(rowText(row)).toBe(' NEW failure: ring floating-input: ring wanders by 4 % FS rms.');
		expect(rowText(alertOf(makePicture(at(22))))).toBe('');
	});

	it('counts the other new ones', () => {
		const findings = [makeFinding(), makeFinding({code: 'dropout', channel: 'index'})];
		expect(rowText(alertOf(makePicture(at(13, findings))))).toContain('NEW failure (+1 new): index dropout');
	});

	it('says for how long nothing has come, and what to try', () => {
		const text = rowText(alertOf(makePicture(calm, {silentFor: 7})));
		expect(text).toContain('SILENT for 7 s');
		expect(text).toMatch(/cable.*port or computer.*power bank/);
		expect(rowText(alertOf(makePicture(calm, {silentFor: 1})))).not.toContain('SILENT');
	});

	it('puts a lost port before silence, and the end of the source before both', () => {
		expect(rowText(alertOf(makePicture(at(13), {silentFor: 12, lostFor: 12})))).toContain('PORT GONE for 12 s');
		expect(rowText(alertOf(makePicture(at(13), {silentFor: 12, lostFor: 12, over: 'Ended.'})))).toBe(' Ended.');
	});

	it('names another program on the port before that, fit to be read', () => {
		const events = [
			{t: 0, event: 'dtr'},
			{
				t: 0,
				event: 'shared',
				detail: 'a\u001B[2Jb (process 7) has this port open too: bytes it reads are missing here.',
			},
		];
		const text = rowText(alertOf(makePicture({...calm, t: 5, events})));
		expect(text).toMatch(/^ a\S+b \(process 7\) has this port open too/);
		expect(text).not.toContain('\u001B');
	});

	it('explains the restart that opening a port causes, while it is news', () => {
		const opened = {...calm, t: 5, events: [{t: 0, event: 'dtr'}]};
		expect(rowText(alertOf(makePicture(opened)))).toContain('--no-reset');
		expect(rowText(alertOf(makePicture({...opened, t: 9})))).not.toContain('--no-reset');
	});

	it('does not alarm over a new finding that only wants a look', () => {
		const look = makeFinding({status: 'function-check', from: 10, flaggedAt: 12});
		expect(alertOf(makePicture(at(13, [look])))[0].tone).toBe('strong');
	});

	it('names what was lost, inverse, before any other finding', () => {
		const lost = withChannel(at(13), 'ring', {state: 'lost'});
		const row = alertOf(makePicture(lost));
		expect(row[0].tone).toBe('alert');
		expect(rowText(row)).toBe(' LOST  RING was proven and is an open pin now: its wire or wiper is off.');
		expect(rowText(alertOf(makePicture(withChannel(lost, 'thumb', {state: 'lost'}))))).toContain(
			'LOST  THUMB and RING were proven and are open pins now',
		);
	});

	it('does not speak at the bench of what waits to be wired, nor of the link', () => {
		const look = makeFinding({status: 'function-check', from: 10, flaggedAt: 12});
		const link = makeFinding({channel: null, code: 'uneven-frames', status: 'out-of-spec', flaggedAt: 12});
		expect(alertOf(makePicture(at(13, [look, link])), true)).toEqual([]);
		expect(rowText(alertOf(makePicture(at(13)), true))).toContain('NEW failure: ring');
	});

	it('shows a port’s name escaped', () => {
		const row = alertOf(makePicture(calm, {lostFor: 3, name: '/dev/\u001B[2Jx'}));
		expect(rowText(row)).toContain('/dev/\\x1b[2Jx');
	});
});
