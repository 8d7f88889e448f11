import {Session} from '../../source/session/session.ts';
import type {Finding} from '../../source/session/snapshot.ts';
import {
	faultyLearning,
	healthyLearning,
	type LearningStream,
	type laterFaults,
	learners,
	type learningKinds,
} from '../gloves/learning-streams.ts';

/** What the diagnosis made of one healthy glove whose firmware learns its ranges. */
export type HealthyTrial = {
	readonly seed: number;
	/** `dropout on index from 3.2 s`: all of them false. */
	readonly findings: readonly string[];
	/** When each finger's range was taken for learned, stream seconds; null where it never was. */
	readonly learnedUntil: readonly (number | null)[];
};

/** What it made of one with a fault that begins after the end of learning. */
export type FaultyTrial = {
	/** Fault, channel, onset, severity, converter, rest and seed. */
	readonly told: string;
	/** The right code on the right channel, said after the onset. */
	readonly isFound: boolean;
	/** Everything else that was said and is not allowed. */
	readonly wrong: readonly string[];
	/** No finger was taken for learning once the fault had begun; one that was never told from others is none. */
	readonly wasLearned: boolean;
};

function diagnose({items, seconds, truth}: LearningStream): Session {
	const session = new Session({timing: 'measured', baud: truth.declared.baud});
	for (const item of items) session.push(item);
	session.end(seconds);
	return session;
}

const told = ({code, channel, from}: Finding): string =>
	`${code}${channel === null ? '' : ` on ${channel}`} from ${from} s`;

/** `seeds` gloves of one kind, one at a time. */
export function* healthyTrials(
	{bits, rest}: (typeof learningKinds)[number],
	firstSeed: number,
	seeds: number,
	seconds?: number,
): Generator<HealthyTrial> {
	for (let seed = firstSeed; seed < firstSeed + seeds; seed++) {
		const {findings, channels} = diagnose(healthyLearning(seed, bits, rest, seconds)).snapshot();
		const learnedUntil = learners.map(name => channels.find(each => each.name === name)?.learnedUntil ?? null);
		yield {seed, findings: findings.map(told), learnedUntil};
	}
}

/** `seeds` gloves with one of the later faults, one at a time; those on which the fault need not be found are left out. */
export function* faultyTrials(
	fault: (typeof laterFaults)[number],
	firstSeed: number,
	seeds: number,
	seconds?: number,
): Generator<FaultyTrial> {
	for (let n = 0; n < seeds; n++) {
		const stream = faultyLearning(fault, firstSeed, n, seconds);
		if (stream === undefined) continue;
		const [truth] = stream.truth.faults;
		const {findings, channels} = diagnose(stream).snapshot();
		// Said before there was anything to see, the right words would be wrong.
		const later = ({flaggedAt}: Finding) => flaggedAt >= truth.from;
		const isRight = (one: Finding) => one.code === truth.code && one.channel === truth.channel && later(one);
		const isAllowed = (one: Finding) =>
			later(one) && truth.may.some(({code, channel}) => code === one.code && channel === one.channel);
		yield {
			told: stream.told,
			isFound: findings.some(isRight),
			wrong: findings.filter(one => !isRight(one) && !isAllowed(one)).map(told),
			wasLearned: learners.every(name => {
				const until = channels.find(each => each.name === name)?.learnedUntil ?? null;
				return until === null || until <= truth.from;
			}),
		};
	}
}
