import {CannotError} from '../cannot-error.ts';
import type {Fault} from './fault.ts';
import {closestCodes, findFault} from './registry.ts';

/** The catalogue entry of a code as somebody typed it. Throws `CannotError`, with the codes that may have been meant. */
export function namedFault(code: string): Fault {
	const fault = findFault(code.trim().toLowerCase());
	if (fault !== undefined) return fault;
	const near = closestCodes(code);
	const last = near.pop();
	const hint = last === undefined ? '' : ` Did you mean ${near.length > 0 ? `${near.join(', ')} or ${last}` : last}?`;
	throw new CannotError(`Unknown finding ${JSON.stringify(code)}.${hint} All codes: glovebench explain`);
}
