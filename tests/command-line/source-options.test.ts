import {PassThrough} from 'node:stream';
import {describe, expect, it} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';

const recording = new URL('../../recordings/healthy-rest.gbrec', import.meta.url).pathname;
const open = (name: string, options: Parameters<typeof openNamedSource>[1]) =>
	openNamedSource(name, options, {stdin: new PassThrough() as never, signal: new AbortController().signal});

describe('what is about a serial port', () => {
	it.each([recording, '-', 'tcp://127.0.0.1:9'])(
		'is refused where %s is none, in a line that says what to do',
		async name => {
			const what = name === '-' ? 'standard input' : name;
			await expect(open(name, {baud: 'auto'})).rejects.toThrow(
				`--baud auto is about a serial port, which ${what} is not: leave it out.`,
			);
			await expect(open(name, {reset: false})).rejects.toThrow('--no-reset is about a serial port');
			await expect(open(name, {baud: 'auto', reset: false})).rejects.toThrow(
				`--baud auto and --no-reset are about a serial port, which ${what} is not: leave them out.`,
			);
		},
	);

	it('leaves a rate that is named alone: it tells how full the line was', async () => {
		const {source, session} = await open(recording, {baud: 9600, reset: true});
		expect(session.baud).toBe(9600);
		await source.close();
	});
});
