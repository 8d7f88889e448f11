import type {Fault} from './fault.ts';

/**
 * What to do about a finding, in order: each check as `measure — what it reads when sound`, the first being the next
 * thing to measure, and the caution last where there is one.
 */
export function adviceFor(fault: Fault): string[] {
	const advice = fault.checks.map(({measure, expect}) => `${measure} — ${expect}`);
	return fault.caution === undefined ? advice : [...advice, `Caution: ${fault.caution}`];
}
