import type {Features} from './features.ts';

const nobody: readonly number[] = [];

/** What has to rest with a channel: the other fingers of its hand; of a stick axis the other axis. Analog places. */
export function companyOf(features: Features, a: number): readonly number[] {
	const hand = features.handAt(a);
	if (hand !== undefined) return hand.others(a);
	const {stick} = features;
	return stick === null ? nobody : a === stick.x ? stick.onlyY : stick.onlyX;
}
