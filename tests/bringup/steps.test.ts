import {describe, expect, it} from 'vitest';
import {promptOf, stepsFor} from '../../source/bringup/steps.ts';
import type {Channel, ChannelRole} from '../../source/framing/layout.ts';

function channels(...names: string[]): Channel[] {
	const role = (name: string): ChannelRole =>
		name.startsWith('stick')
			? 'stick'
			: name.startsWith('button')
				? 'button'
				: name === 'counter'
					? 'counter'
					: 'finger';
	return names.map((name, index) => ({index, name, role: role(name)}));
}

const whole = channels(
	'counter',
	'ring',
	'thumb',
	'index',
	'middle',
	'little',
	'stick-x',
	'stick-y',
	'button-2',
	'button-1',
);

describe('steps', () => {
	it('ask for everything the glove has, fingers as they stand on the hand', () => {
		expect(stepsFor(whole).map(({id}) => id)).toEqual([
			'rest',
			...['thumb', 'index', 'middle', 'ring', 'little'].map(name => `reel ${name}`),
			'hand',
			...['thumb', 'index', 'middle', 'ring', 'little'].map(name => `finger ${name}`),
			'stick around',
			...['right', 'down', 'left', 'up'].map(side => `stick ${side}`),
			'button-1',
			'button-2',
		]);
	});

	it('leave out what the glove has not', () => {
		expect(stepsFor(channels('index', 'middle', 'stick-x')).map(({id}) => id)).toEqual([
			'rest',
			'reel index',
			'reel middle',
			'hand',
			'finger index',
			'finger middle',
		]);
		expect(stepsFor(channels('button-1')).map(({id}) => id)).toEqual(['rest', 'button-1']);
	});

	it('have prompts that fit in one line of a terminal', () => {
		for (const step of stepsFor(whole)) {
			const prompt = promptOf(step);
			expect(prompt.length, prompt).toBeLessThanOrEqual(76);
			expect(prompt).toMatch(/^[A-Z][^\n]*\.$/);
		}
	});
});
