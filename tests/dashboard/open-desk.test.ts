import {describe, expect, it} from 'vitest';
import {openReplayDesk, recordingName} from '../../source/dashboard/open-desk.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {playGlove} from './play-glove.ts';

const {signal} = new AbortController();

describe('names of recordings', () => {
	it('tell day and time, and the glove where there are two', () => {
		const time = new Date(2026, 2, 8, 14, 5, 9);
		expect(recordingName(time, 0, 1)).toBe('glove-2026-03-08-140509.gbrec');
		expect(recordingName(time, 1, 2)).toBe('glove-2-2026-03-08-140509.gbrec');
	});
});

describe('openReplayDesk', () => {
	it('begins where and how it was told to', async () => {
		const source = memorySource(playGlove({seconds: 5}), {name: 'left.gbrec', kind: 'recording'});
		const desk = await openReplayDesk(
			[{source, session: {}, sheet: undefined}],
			{at: 3, held: true, page: 'trend'},
			signal,
		);
		expect(desk.view).toMatchObject({held: true, page: 'trend', mode: 'replay'});
		expect(desk.stations[0].player?.t).toBe(3);
		expect(source.closed).toBe(true);
	});

	it('plays the silence to a recording’s end, with what is found in it', async () => {
		const source = {...memorySource(playGlove({seconds: 5}), {name: 'left.gbrec'}), endedAt: () => 14};
		const desk = await openReplayDesk([{source, session: {}, sheet: undefined}], {held: true}, signal);
		while (desk.readAhead(50));
		const player = desk.stations[0].player!;
		expect(player.duration).toBe(14);
		player.seek(14);
		expect(player.session.snapshot().findings.map(({code}) => code)).toEqual(['silent']);
	});

	it('plays the session that was asked for, wherever the batches are cut', async () => {
		const glove = playGlove({seconds: 2});
		const items = [0, 10, 20].flatMap((at): SourceItem[] => [
			...(at === 0 ? [] : [{t: at, event: 'session' as const, detail: 'time goes back'}]),
			...glove.map(item => ({...item, t: at + item.t})),
		]);
		for (const part of [1, 2, 3]) {
			const source = memorySource(items, {name: 'three.log', kind: 'log'}, 7);
			const desk = await openReplayDesk([{source, session: {}, sheet: undefined}], {part}, signal);
			expect(desk.stations[0].player?.duration).toBeCloseTo(glove.at(-1)!.t, 5);
		}
	});

	it('says in a line that there is nothing in a recording', async () => {
		const source = memorySource([{t: 1, mark: 'only a note'}], {name: 'empty.gbrec'});
		await expect(openReplayDesk([{source, session: {}, sheet: undefined}], {}, signal)).rejects.toThrow(
			/^empty\.gbrec holds nothing that was received: .*\?$/,
		);
	});
});
