import {expect, test} from 'vitest';
import {type Drawing, found, sessionOver} from '../gloves/draw.ts';
import {inTurn, pace, turnTo} from '../gloves/strokes.ts';

// Check-values D5.4, backlash: over at least four whole-hand movements the others have gone at least 9 % of the finger's way more
// than it has when it sets out; silent at 5 %, and at a constant lag.

const fists = {thumb: 60, index: 75, middle: 80, ring: 70, little: 72};

type Own = Parameters<typeof turnTo>[2];

/** Closings and openings of the whole hand in turn, half a second each; what is said of a finger is added to its strokes. */
function glove(movements: number, own: Partial<Record<keyof typeof fists, Own>>): Drawing {
	const channels = Object.entries(fists).map(([name, closed]) => {
		const more = own[name as keyof typeof fists];
		return [name, turnTo(20, inTurn(movements, closed, 20), k => ({way: 0.5, ...more?.(k)}))] as const;
	});
	return {channels: Object.fromEntries(channels), seconds: movements * pace + 2, fullScale: 4095};
}

/** Share of the finger's way that is gone before the reading moves; it is measured at a tenth of the reading's own way. */
const playOf =
	(play: number): Own =>
	() => ({play});
const loose = playOf(0.15);

test.each<[string, Drawing]>([
	['11 % of the way', glove(8, {ring: loose})],
	['41 % of the way: a slack cord', glove(8, {ring: playOf(0.6)})],
	['after four movements', glove(4, {ring: loose})],
	['play that differs by 6 % from closing to opening', glove(8, {ring: k => ({play: k % 2 === 0 ? 0.16 : 0.24})})],
	['beside fingers that lie 5 % apart', glove(8, {ring: loose, thumb: () => ({way: 0.54})})],
	['the others agree in four of ten movements', glove(10, {ring: loose, thumb: k => ({way: k % 5 > 2 ? 0.5 : 0.7})})],
	['play and a constant lag', glove(8, {ring: () => ({play: 0.15, late: 0.1})})],
])('is raised: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toEqual(['backlash ring']);
});

test.each<[string, Drawing]>([
	['no play', glove(8, {})],
	['4 % of the way', glove(8, {ring: playOf(0.05)})],
	['6 % of the way', glove(8, {ring: playOf(0.08)})],
	['a constant lag', glove(8, {ring: () => ({late: 0.15})})],
	['three movements', glove(3, {ring: loose})],
	['62 % of the way: another gesture', glove(8, {ring: playOf(0.9)})],
	['play that differs by 8 % from closing to opening', glove(8, {ring: k => ({play: k % 2 === 0 ? 0.14 : 0.26})})],
	['beside fingers that lie 7.5 % apart', glove(8, {ring: loose, thumb: () => ({way: 0.56})})],
	['the others agree in every fourth movement', glove(16, {ring: loose, thumb: k => ({way: k % 4 > 2 ? 0.5 : 0.7})})],
])('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('backlash'))).toEqual([]);
});

test.each<[string, Drawing, number]>([
	['three movements', glove(3, {ring: loose}), 3],
	['unlike gestures', glove(8, {ring: loose, thumb: () => ({way: 0.6})}), 0],
])('waits after %s', (_title, drawing, seen) => {
	const {checks} = sessionOver(drawing).snapshot();
	expect(checks.find(({code, channel}) => code === 'backlash' && channel === 'ring')).toMatchObject({
		state: 'waiting',
		seen,
		needed: 4,
		next: 'open and close the whole hand, all fingers at once',
	});
});

test('tells the play', () => {
	const [finding] = sessionOver(glove(8, {ring: loose})).findings;
	expect(finding.status).toBe('maintenance');
	// Its tenth is gone at 0.15 + 0.1 × 0.85 of the finger's way, nine tenths at 0.915: on minimum-jerk strokes that is at 0.351
	// and 0.768 of the time, and the others' nine tenths at 0.753. Shifted by that they have gone 21.5 %, less a tenth.
	expect(finding.evidence.playPercentOfWay).toBeGreaterThan(10.5);
	expect(finding.evidence.playPercentOfWay).toBeLessThan(12.5);
});
