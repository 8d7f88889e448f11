import type {Fault, Scope} from './fault.ts';
import type {Status} from './fault-code.ts';

/** What each category of NAMUR NE 107 says about the readings, gravest first. */
export const statusMeanings: Readonly<Record<Status, string>> = {
	failure: 'the signal is invalid',
	'out-of-spec': 'the signal is usable only with doubt',
	maintenance: 'the signal is good, but something wears and wants care',
	'function-check': 'the signal is good; something about the way it is sent wants a look',
};

/** What a finding is judged on, in words. */
export function judgedOn({scope, together}: Pick<Fault, 'scope' | 'together'>): string {
	return together === true ? `${scopeMeanings[scope]}, and all of them together` : scopeMeanings[scope];
}

const scopeMeanings: Readonly<Record<Scope, string>> = {
	finger: 'each finger channel',
	stick: 'each stick axis',
	analog: 'each finger channel and stick axis',
	button: 'each button',
	link: 'the link, or all channels together',
};

const gravestFirst: readonly Status[] = ['failure', 'out-of-spec', 'maintenance', 'function-check'];

/** 0 for the gravest. */
export function statusRank(status: Status): number {
	return gravestFirst.indexOf(status);
}
