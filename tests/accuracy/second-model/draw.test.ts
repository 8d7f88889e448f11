import {expect, test} from 'vitest';
import {scenarioCodes} from '../../gloves/scenario.ts';
import {families, secondCorpus} from './draw.ts';

test('every code that a stream alone can show has sessions of the second model', () => {
	const drawn = new Set(families.map(({code}) => code));
	expect([...scenarioCodes, 'rough-track', 'settings-stale'].filter(code => !drawn.has(code))).toEqual([]);
});

test('families have names of their own', () => {
	expect(new Set(families.map(({name}) => name)).size).toBe(families.length);
});

test('the same seed draws the same bytes, another one others', () => {
	const draw = (seed: number): string[] =>
		secondCorpus(seed)
			.filter(({family}) => ['anything', 'learns its range', 'lost'].includes(family.name))
			.filter(({n}) => n === 0)
			.map(({draw}) => draw().text);
	expect(draw(5)).toEqual(draw(5));
	expect(draw(5)[0]).not.toBe(draw(6)[0]);
});

test('a case can be drawn without those before it', () => {
	const text = (): string =>
		secondCorpus(9)
			.find(({family, n}) => family.name === 'backlash' && n === 3)!
			.draw().text;
	secondCorpus(9)[0].draw();
	expect(text()).toBe(text());
});
