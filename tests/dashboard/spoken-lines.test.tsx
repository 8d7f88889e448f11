import {render} from 'ink-testing-library';
import {expect, it} from 'vitest';
import {SpokenLines} from '../../source/dashboard/SpokenLines.tsx';

it('writes each line once, below those before it', () => {
	const {rerender, lastFrame, unmount} = render(<SpokenLines lines={['ring proven.']} />);
	rerender(<SpokenLines lines={['ring proven.', 'index lost: its wire is off.']} />);
	expect(lastFrame()).toBe('ring proven.\nindex lost: its wire is off.\n');
	unmount();
});

it('lets no sequence of the device through', () => {
	const {lastFrame, unmount} = render(<SpokenLines lines={['\u001B[2Jboot\u0007']} />);
	expect(lastFrame()).not.toContain('\u001B[2J');
	expect(lastFrame()).not.toContain('\u0007');
	expect(lastFrame()).toContain('boot');
	unmount();
});
