import {expect, it} from 'vitest';
import {noFrameText} from '../../source/report/no-frame-text.ts';
import {runSession} from '../../source/session/run-session.ts';
import {memorySource} from '../gloves/memory-source.ts';

async function text(lines: string, layout?: string): Promise<string> {
	const source = memorySource([{t: 0, bytes: new TextEncoder().encode(lines)}], {name: 'fox.txt', kind: 'log'});
	return noFrameText(await runSession(source, {session: {fullScale: 1023, layout}}));
}

it('says how many values were declared and how many there are, else what else to try', async () => {
	const lines = '512,498\r\n'.repeat(20);
	expect(await text(lines, 'thumb,index,middle')).toBe(
		'fox.txt has no frame in it: 180 bytes came, and no lines of readings among them (it begins “512,498”). ' +
			'The sheet or --layout declares 3 values to a line, these have 2: correct the one that is wrong.',
	);
	expect(await text('dear all\r\n', 'thumb,index')).toContain('declares other lines than these');
	expect(await text('dear all\r\n')).toContain('say how they are written with --layout');
	expect(await text('')).toContain('Nothing came from fox.txt');
});
