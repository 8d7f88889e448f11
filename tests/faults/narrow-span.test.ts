import {expect, test} from 'vitest';
import {type Course, type Drawing, fists, found, held, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4, narrow-span: after six whole-hand movements at most 0.25 of the other fingers' median span; silent at 0.5;
// all fingers narrow alike are the scale.

const others = {thumb: 45, index: 55, middle: 60, ring: 60, little: 52};

/** A hand that makes fists, the ring finger as far as this share of the other fingers' median span: 53.5 % FS without it. */
function glove(
	share: number,
	{times = 4, scale = 1, ring}: {times?: number; scale?: number; ring?: Course} = {},
): Drawing {
	const course = (span: number): Course => fists({open: 20, closed: 20 + span * scale, times});
	const channels = Object.fromEntries(Object.entries(others).map(([name, span]) => [name, course(span)]));
	return {
		channels: {...channels, ring: ring ?? course(53.5 * share)},
		seconds: 2 * times + 2,
		noise: 0.1 * Math.min(1, scale),
		fullScale: 4095,
	};
}

/** Three fists of a ring with a fifth of the travel, whose reel runs onto its stop at zero after the first, until then. */
const ontoItsStop = (until: number): Course =>
	sum(fists({open: 2, closed: 12.7, times: 3}), through([2, 0], [2.4, -2], [until, -2], [until + 0.4, 0]));

test.each<[string, Drawing]>([
	['a fifth of the others', glove(0.2)],
	['a quarter of them, the must', glove(0.25)],
	['a fifth, where the glove uses 5 % of the scale', glove(0.2, {scale: 0.09})],
	['a fifth, the other way round', glove(0.2, {ring: fists({open: 60, closed: 49, times: 4})})],
	['a fifth after exactly three closings and three openings', glove(0.2, {times: 3})],
	['a fifth, on its stop for a moment after one of three openings', glove(0, {times: 3, ring: ontoItsStop(2.6)})],
])('is raised at %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toEqual(['narrow-span ring']);
});

test.each<[string, Drawing]>([
	['half of the others, the must not', glove(0.5)],
	['0.4 of them: a finger that uses one joint', glove(0.4)],
	['a third of them', glove(0.33)],
	[
		'a thumb with half of their travel',
		{...glove(1), channels: {...glove(1).channels, thumb: fists({open: 20, closed: 48, times: 4})}},
	],
	['all fingers alike on a fifth of the scale', glove(1, {scale: 0.2})],
	['a finger that is not moved: it may be stuck, not narrow', glove(0, {ring: held(30)})],
	[
		'a finger that is held back but for one small way: movements count in which it moved itself',
		glove(0, {ring: sum(held(30), fists({open: 0, closed: 10, times: 1}))}),
	],
	[
		'a finger that lies on its stop from one of three openings to the next closing: how far it would go is not seen',
		glove(0, {times: 3, ring: ontoItsStop(3)}),
	],
	['five movements', {...glove(0.2, {times: 3}), seconds: 6.1}],
	[
		'fingers moved one at a time',
		{
			channels: Object.fromEntries(
				Object.keys(others).map((name, f) => [
					name,
					fists({open: 20, closed: name === 'ring' ? 30 : 75, times: 3, from: 1 + 6 * f}),
				]),
			),
			seconds: 32,
		},
	],
])('is silent at %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('narrow-span'))).toEqual([]);
});

test('waits for whole-hand movements in which the finger moves', () => {
	const {checks} = sessionOver({...glove(0.2, {times: 2}), seconds: 6}).snapshot();
	expect(checks.find(({code, channel}) => code === 'narrow-span' && channel === 'ring')).toEqual({
		code: 'narrow-span',
		channel: 'ring',
		state: 'waiting',
		seen: 4,
		needed: 6,
		next: 'open and close the whole hand',
	});
});

test('tells the measured spans', () => {
	const [finding] = sessionOver(glove(0.2)).findings;
	expect(finding.status).toBe('out-of-spec');
	expect(finding.evidence).toMatchObject({
		spanPercentFs: expect.closeTo(10.7, 0),
		othersMedianPercentFs: expect.closeTo(53.5, 0),
		ratio: expect.closeTo(0.2, 1),
	});
});

test('closes when the finger goes as far as the others', () => {
	const narrow = fists({open: 20, closed: 31, times: 4});
	const wide = fists({open: 0, closed: 40, times: 4, from: 9});
	const drawing = glove(1, {times: 8, ring: sum(narrow, wide)});
	const [finding] = sessionOver(drawing).findings;
	expect([finding.code, finding.channel]).toEqual(['narrow-span', 'ring']);
	expect(finding.to).toBeGreaterThanOrEqual(9);
	expect(finding.to).toBeLessThan(10.5);
});
