import {expect, test} from 'vitest';
import {AnalogChannel} from '../../source/simulator/analog-channel.ts';
import {withReels} from '../../source/simulator/reel-text.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';

test('reads what is odd about a reel', () => {
	const {fingers} = simulationFromOptions({}).glove;
	const [thumb, index] = withReels(fingers, ['thumb:taper=reverse/10', 'index:load=0.1,layer=20']);
	expect(thumb.halfShare).toBeCloseTo(0.9, 12);
	expect(index).toMatchObject({loadRatio: 0.1, layerAtMm: 20});
});

test('an audio track has 15 % of its resistance at half turn (check-values P5)', () => {
	const {glove} = simulationFromOptions({});
	const finger = {...glove.fingers[0], openAngleDegrees: 0, direction: 1 as const, endResistance: 0, loadRatio: 0};
	const plain = new AnalogChannel({...glove, fingers: [finger]}, 'thumb');
	const audio = new AnalogChannel({...glove, fingers: withReels([finger], ['thumb:taper=audio'])}, 'thumb');
	for (const bending of [0.1, 0.3, 0.6, 0.9]) {
		const turn = plain.ideal(bending);
		expect(audio.ideal(bending)).toBeCloseTo(turn < 0.5 ? 0.3 * turn : 0.15 + 1.7 * (turn - 0.5), 9);
	}
});

test('names what it does not know', () => {
	const {fingers} = simulationFromOptions({}).glove;
	expect(() => withReels(fingers, ['pinky:load=1'])).toThrow(/no finger "pinky".*thumb/);
	expect(() => withReels(fingers, ['index:taper=log'])).toThrow(/none of taper=audio/);
	expect(() => withReels(fingers, ['index:load=a lot'])).toThrow(/none of/);
});
