import type {FaultTruth, Truth} from '../../source/simulator/simulate.ts';
import type {Expectation, May, Must} from './expectation.ts';

/** What the first corpus asks for: of the simulator's truth, the fault that was drawn; what came with it may be named. */
export function expectationOf({faults, scanOrder, closings}: Truth, isHealthy: boolean): Expectation {
	const main = faults.find(({expect}) => expect === 'must');
	const fingers = scanOrder.filter(name => !name.startsWith('stick'));
	// Two closings are four movements: enough to prove every finger of a healthy hand.
	const proven = isHealthy && main === undefined && closings.length >= 3;
	return {
		musts: main === undefined ? [] : [mustOf(main)],
		mays: faults.filter(({expect}) => expect !== 'must-not').flatMap(maysOf),
		states: proven ? Object.fromEntries(fingers.map(finger => [finger, ['proven']])) : {},
		verdicts: main === undefined ? ['pass', 'unproven'] : null,
		unseen: [],
	};
}

function mustOf({code, channel, alternatives, from, to}: FaultTruth): Must {
	return {codes: [code], channels: [channel, ...alternatives], from, evidenceAt: null, delayFrom: from, until: to};
}

function maysOf({code, channel, alternatives, may}: FaultTruth): May[] {
	return [
		{code, channels: [channel, ...alternatives]},
		...may.map(({code, channel}): May => ({code, channels: channel === null ? 'any' : [channel]})),
	];
}
