import type {FaultTruth, SimulationSpec, Truth} from '../../source/simulator/simulate.ts';
import type {Expectation, May, Must} from './expectation.ts';
import {evidenceOf} from './first-evidence.ts';

/** What the first corpus asks for: of the simulator's truth, the fault that was drawn; what came with it may be named. */
export function expectationOf(truth: Truth, spec: SimulationSpec, isHealthy: boolean): Expectation {
	const {faults, scanOrder, closings} = truth;
	const drawn = faults.find(({expect}) => expect === 'must');
	const evidenceAt = drawn && evidenceOf(drawn, truth, spec);
	// A session in which what the definition counts never comes shows no fault.
	const main = evidenceAt === null ? undefined : drawn;
	const fingers = scanOrder.filter(name => !name.startsWith('stick'));
	// Two closings are four movements: enough to prove every finger of a healthy hand.
	const proven = isHealthy && drawn === undefined && closings.length >= 3;
	return {
		musts: main === undefined ? [] : [mustOf(main, evidenceAt ?? null)],
		mays: faults.filter(({expect}) => expect !== 'must-not').flatMap(maysOf),
		states: proven ? Object.fromEntries(fingers.map(finger => [finger, ['proven']])) : {},
		verdicts: drawn === undefined ? ['pass', 'unproven'] : null,
		unseen: [],
	};
}

function mustOf({code, channel, alternatives, from, to}: FaultTruth, evidenceAt: number | null): Must {
	return {codes: [code], channels: [channel, ...alternatives], from, evidenceAt, delayFrom: from, until: to};
}

function maysOf({code, channel, alternatives, may}: FaultTruth): May[] {
	return [
		{code, channels: [channel, ...alternatives]},
		...may.map(({code, channel}): May => ({code, channels: channel === null ? 'any' : [channel]})),
	];
}
