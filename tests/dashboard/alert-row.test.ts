import {describe, expect, it} from 'vitest';
import {alertRow} from '../../source/dashboard/alert-row.ts';
import {rowText} from '../../source/screen/rows.ts';
import {glyphs, healthy, makeFinding, makePicture, withChannel} from './sample-picture.ts';

const calm = {...healthy, findings: [], events: [], notes: []};
const proven = {...calm, channels: calm.channels.map(channel => ({...channel, state: 'proven' as const}))};
const at = (t: number, findings = [makeFinding({from: 10, flaggedAt: 12})]) => ({...calm, t, findings});

describe('alertRow', () => {
	it('holds a new finding up, inverse and in words, for ten seconds of stream time', () => {
		const row = alertRow(makePicture(at(21)), glyphs);
		expect(row[0].tone).toBe('alert');
		expect(rowText(row)).toBe(' NEW failure: ring floating-input: ring wanders by 4 % FS rms.');
		expect(rowText(alertRow(makePicture(at(22)), glyphs))).toBe(' 1 open, do first: ring floating-input since 0:10');
	});

	it('counts the other new ones', () => {
		const findings = [makeFinding(), makeFinding({code: 'dropout', channel: 'index'})];
		expect(rowText(alertRow(makePicture(at(13, findings)), glyphs))).toContain('NEW failure (+1 new): index dropout');
	});

	it('says for how long nothing has come, and what to try', () => {
		const text = rowText(alertRow(makePicture(calm, {silentFor: 7}), glyphs));
		expect(text).toContain('SILENT for 7 s');
		expect(text).toMatch(/cable.*port or computer.*power bank/);
		expect(rowText(alertRow(makePicture(calm, {silentFor: 1}), glyphs))).not.toContain('SILENT');
	});

	it('puts a lost port before silence, and the end of the source before both', () => {
		expect(rowText(alertRow(makePicture(at(13), {silentFor: 12, lostFor: 12}), glyphs))).toContain(
			'PORT GONE for 12 s',
		);
		expect(rowText(alertRow(makePicture(at(13), {silentFor: 12, lostFor: 12, over: 'Ended.'}), glyphs))).toBe(
			' Ended.',
		);
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
		const text = rowText(alertRow(makePicture({...calm, t: 5, events}), glyphs));
		expect(text).toMatch(/^ a\S+b \(process 7\) has this port open too/);
		expect(text).not.toContain('\u001B');
	});

	it('explains the restart that opening a port causes, while it is news', () => {
		const opened = {...calm, t: 5, events: [{t: 0, event: 'dtr'}]};
		expect(rowText(alertRow(makePicture(opened), glyphs))).toContain('--no-reset');
		expect(rowText(alertRow(makePicture({...opened, t: 9}), glyphs))).not.toContain('--no-reset');
	});

	it('names of several open findings the one to do first', () => {
		const findings = [makeFinding({first: true, from: 3}), makeFinding({code: 'dropout', channel: 'index', from: 10})];
		expect(rowText(alertRow(makePicture(at(40, findings)), glyphs))).toBe(
			' 2 open, do first: ring floating-input since 0:03',
		);
	});

	it('does not alarm over a new finding that only wants a look', () => {
		const look = makeFinding({status: 'function-check', from: 10, flaggedAt: 12});
		expect(alertRow(makePicture(at(13, [look])), glyphs)[0].tone).toBe('strong');
	});

	it('says calmly what is not wired, else what is left to prove', () => {
		const notes = ['2 inputs open: nothing wired yet (ring and little)'];
		expect(rowText(alertRow(makePicture({...calm, notes}), glyphs))).toBe(` ${notes[0]}`);
		const left = withChannel(proven, 'ring', {state: 'waiting'});
		expect(rowText(alertRow(makePicture(left), glyphs))).toBe(' Not yet proven: ring (move it)');
	});

	it('names what moved last when there is nothing else to say', () => {
		expect(rowText(alertRow(makePicture(proven), glyphs))).toMatch(/^ Moved last: \S+ at 0:1\d$/);
		expect(rowText(alertRow(makePicture({...calm, channels: []}), glyphs))).toBe(' Nothing has moved yet.');
	});

	it('shows a port’s name escaped', () => {
		const row = alertRow(makePicture(calm, {lostFor: 3, name: '/dev/\u001B[2Jx'}), glyphs);
		expect(rowText(row)).toContain('/dev/\\x1b[2Jx');
	});
});
