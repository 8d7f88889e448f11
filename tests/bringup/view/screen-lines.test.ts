import {describe, expect, it} from 'vitest';
import {type ScreenState, screenLines} from '../../../source/bringup/view/screen-lines.ts';

const state: ScreenState = {
	source: '/dev/ttyUSB0',
	framesPerSecond: 100,
	stepNumber: 3,
	stepCount: 19,
	prompt: 'Index reel: pull its cord out by hand and let it go, three times.',
	count: 1,
	need: 3,
	hint: null,
	last: 'Before: thumb answered: rises by 65 % FS, 3 times',
	bars: ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2'].map(name => ({
		name,
		now: 0.5,
		low: 0.25,
		high: 0.75,
		answer: name === 'thumb' ? 'thumb rises 65 % FS' : '',
		isAsked: name === 'index',
	})),
	caution: 'Hold the spool before you loosen it: the spring lets the cord whip. Stop at once at numbness or tingling.',
};

const text = (changes: Partial<ScreenState>, columns = 80, rows = 24) =>
	screenLines({...state, ...changes}, columns, rows).map(line => line.text);

describe('screen of the routine', () => {
	it('shows prompt, progress, what was found before, a bar per channel, keys and the caution', () => {
		const lines = text({});
		expect(lines[0]).toBe(`Bring-up of /dev/ttyUSB0, 100 frames/s${' '.repeat(80 - 38 - 12)}step 3 of 19`);
		expect(lines).toContain('Index reel: pull its cord out by hand and let it go, three times.');
		expect(lines).toContain('#..  1 of 3');
		expect(lines).toContain('Before: thumb answered: rises by 65 % FS, 3 times');
		expect(lines).toContain(' thumb     [.......-------#-------......]  thumb rises 65 % FS');
		expect(lines.filter(line => line.startsWith('>'))).toHaveLength(1);
		expect(lines.join('\n')).toContain('s skip   r again, or a step back   q quit');
		expect(lines.join(' ')).toContain('the spring lets the cord whip');
	});

	it('shows a hint instead of what was found before', () => {
		const lines = screenLines({...state, hint: 'Several channels moved at once: only this one, please.'}, 80, 24);
		expect(lines.find(({tone}) => tone === 'alert')?.text).toBe(
			'Several channels moved at once: only this one, please.',
		);
		expect(lines.some(line => line.text.startsWith('Before:'))).toBe(false);
	});

	it.each([
		[80, 24],
		[60, 16],
		[132, 50],
		[40, 12],
	])('fits %d × %d, and keeps the channel that is asked for in sight', (columns, rows) => {
		const bars = state.bars.map(bar => ({...bar, isAsked: bar.name === 'button-2'}));
		const lines = text({bars}, columns, rows);
		// One row less than the terminal has, or drawing would scroll.
		expect(lines.length).toBeLessThan(rows);
		for (const line of lines) expect(line.length).toBeLessThanOrEqual(columns);
		expect(lines.some(line => line.startsWith('>button-2'))).toBe(true);
	});

	it('waits for frames before there is a prompt', () => {
		expect(text({prompt: null, bars: [], stepCount: 0})).toContain('Waiting for frames: is the board sending?');
	});

	it('shows what a device sent escaped', () => {
		const [bar] = state.bars;
		expect(text({bars: [{...bar, answer: '\u001B[2Jx'}]}).join('\n')).toContain('\\x1b[2Jx');
	});
});
