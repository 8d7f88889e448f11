import {closestNames} from '../text/closest-names.ts';
import {everyFault} from './every-fault.ts';
import type {Fault} from './fault.ts';

/** The code of a finding: where one is named, a misspelt one does not compile. */
export type FaultCode = (typeof everyFault)[number]['code'];

/** Every finding there is, in the order of the documentation. */
export const faults: readonly Fault<FaultCode>[] = everyFault;

const byCode = new Map<string, Fault<FaultCode>>(faults.map(fault => [fault.code, fault]));

/** The catalogue entry of a code, or undefined where there is none. */
export function findFault(code: string): Fault<FaultCode> | undefined {
	return byCode.get(code);
}

/** Up to three known codes that a misspelt one may have meant, nearest first; empty where none is near. */
export function closestCodes(text: string): string[] {
	return closestNames(text, [...byCode.keys()]);
}
