import {setImmediate} from 'node:timers/promises';
import {render} from 'ink-testing-library';
import {expect, it} from 'vitest';
import {KeyReader} from '../../source/screen/KeyReader.tsx';

/** What a terminal sends for a key (ECMA-48 and the xterm control sequences), and the name it is handed on by. */
const sent = [
	['j', ['j']],
	['Z', ['Z']],
	['?', ['?']],
	['\u001B[A', ['up']],
	['\u001B[B', ['down']],
	['\u001B[C', ['right']],
	['\u001B[D', ['left']],
	['\r', ['enter']],
	['\t', ['tab']],
	// Keys that were typed faster than they were read come together.
	['zb', ['z', 'b']],
] as const;

it.each(sent)('hands %j on by name, and draws nothing', async (bytes, names) => {
	const heard: string[] = [];
	const {stdin, lastFrame, unmount} = render(<KeyReader onKey={name => heard.push(name)} />);
	await setImmediate();
	stdin.write(bytes);
	await setImmediate();
	expect(heard).toEqual(names);
	expect(lastFrame()).toBe('');
	unmount();
});

it('hands keys to whom it is given now, and to nobody once it is gone', async () => {
	const [first, second]: string[][] = [[], []];
	const {stdin, rerender, unmount} = render(<KeyReader onKey={name => first.push(name)} />);
	await setImmediate();
	stdin.write('a');
	await setImmediate();
	rerender(<KeyReader onKey={name => second.push(name)} />);
	await setImmediate();
	stdin.write('b');
	await setImmediate();
	unmount();
	stdin.write('c');
	await setImmediate();
	expect([first, second]).toEqual([['a'], ['b']]);
});
