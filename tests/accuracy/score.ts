import type {FaultTruth, Truth} from '../../source/simulator/simulate.ts';

/** A finding as `check --json` prints it, as far as scoring needs it. */
export type Found = {
	readonly code: string;
	readonly channel: string | null;
	readonly from: number;
	readonly flaggedAt: number;
};

export type Outcome = {
	readonly name: string;
	/** Code of the fault that had to be found; null for a healthy case. */
	readonly code: string | null;
	readonly result: 'found' | 'missed' | 'wrong channel' | 'healthy';
	/** Seconds from the fault's beginning to its being flagged. */
	readonly delaySeconds: number | null;
	/** Findings that nothing injected explains. */
	readonly extra: readonly Found[];
	readonly hours: number;
};

const named = (found: Found, code: string, channel: string | null): boolean =>
	found.code === code && found.channel === channel;

/** Compares what was found with what was injected. */
export function score(name: string, truth: Truth, findings: readonly Found[]): Outcome {
	const main = truth.faults.find(fault => fault.expect === 'must');
	const allowed = (found: Found): boolean =>
		truth.faults.some(fault => fault.expect !== 'must-not' && explains(fault, found));
	const extra = findings.filter(found => !allowed(found));
	const hours = truth.durationSeconds / 3600;
	if (main === undefined) return {name, code: null, result: 'healthy', delaySeconds: null, extra, hours};
	const hit = findings.find(
		found =>
			found.code === main.code && (found.channel === main.channel || main.alternatives.includes(found.channel ?? '')),
	);
	const elsewhere = findings.some(found => found.code === main.code && !named(found, main.code, main.channel));
	return {
		name,
		code: main.code,
		result: hit !== undefined ? 'found' : elsewhere ? 'wrong channel' : 'missed',
		delaySeconds: hit === undefined ? null : Math.max(0, hit.flaggedAt - main.from),
		extra,
		hours,
	};
}

function explains(fault: FaultTruth, found: Found): boolean {
	if (
		found.code === fault.code &&
		(found.channel === fault.channel || fault.alternatives.includes(found.channel ?? ''))
	)
		return true;
	return fault.may.some(
		({code, channel}) =>
			found.code === code && (channel === null || found.channel === channel || found.channel === null),
	);
}
