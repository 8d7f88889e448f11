import type {Fault} from './fault.ts';

/** What to do about a finding, in order, as `measure — what it reads when sound`; the first is the next thing to measure. */
export function adviceFor(fault: Fault): string[] {
	return fault.measurements.map(({measure, expect}) => `${measure} — ${expect}`);
}
