import type {Answer} from '../faults/ask.ts';

/** Just at its limit a finding is as likely as the limit was placed well; twice beyond it there is hardly a doubt. */
const atLimit = 0.6;
const most = 0.95;
const perDoubling = 0.3;

/** How sure a raised finding is, 0…1: by how far its weakest figure lies beyond its limit. */
export function confidenceIn({margin}: Pick<Answer, 'margin'>): number {
	return Math.min(most, atLimit + perDoubling * Math.log2(Math.max(1, margin)));
}
