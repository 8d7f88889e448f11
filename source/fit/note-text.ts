import {plainName} from '../faults/plain-name.ts';
import type {FingerNote} from './fit-result.ts';

/** A note on a finger's settings as a sentence. */
export function noteText(note: FingerNote): string {
	switch (note.kind) {
		case 'rails':
			return `Ends at the ${note.ends.join(' and the ')} rail: the finger may go on beyond what is read.`;
		case 'jumps':
			return `${note.count} short ${note.count === 1 ? 'jump was' : 'jumps were'} left out.`;
		case 'finding':
			return `${plainName(note.code)} is still there.`;
	}
}
