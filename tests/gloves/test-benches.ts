import {expect, test} from 'vitest';
import {diagnoseText} from '../accuracy/diagnose.ts';
import type {Diagnosis} from '../accuracy/diagnosis.ts';
import {checksOfMovement, nothing} from '../accuracy/expectation.ts';
import {type BenchKind, benchKinds, benchLog} from './bench-reels.ts';

const rates = [30, 100, 333];
const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Some benches at each rate, each with what went wrong on it in words; nothing where all is right. */
async function lookAt(
	seeds: readonly number[],
	kind: BenchKind,
	wrong: (diagnosis: Diagnosis) => string[],
): Promise<string[]> {
	const troubles: string[] = [];
	const expectation = {...nothing, unseen: kind === 'none' ? checksOfMovement : []};
	for (const rate of rates) {
		for (const seed of seeds) {
			const diagnosis = await diagnoseText(benchLog(kind, rate, seed), {targetRate: 28}, expectation);
			for (const text of [...wrong(diagnosis), ...diagnosis.slips]) troubles.push(`${rate}/s, seed ${seed}: ${text}`);
		}
	}
	return troubles;
}

const stateOf = ({channels}: Diagnosis, name: string): string | undefined =>
	channels.find(channel => channel.name === name)?.state;

const otherThan = (diagnosis: Diagnosis, state: string, names: readonly string[]): string[] =>
	names.flatMap(name => (stateOf(diagnosis, name) === state ? [] : [`${name} is ${stateOf(diagnosis, name)}`]));

const said = ({findings}: Diagnosis): string[] =>
	findings.map(({code, channel, status}) => `${code} on ${channel} at ${status}`);

/** Findings that are not `floating-input` at this status on one of these channels, and channels without theirs. */
function openAt(diagnosis: Diagnosis, status: string, names: readonly string[]): string[] {
	const wanted = names.map(name => `floating-input on ${name} at ${status}`);
	const found = said(diagnosis);
	return [
		...found.filter(text => !wanted.includes(text)),
		...wanted.filter(text => !found.includes(text)).map(text => `no ${text}`),
	];
}

const verdictOtherThan = ({verdict}: Diagnosis, wanted: string): string[] =>
	verdict === wanted ? [] : [`verdict ${verdict}`];

const slow = 300_000;

/** Tests of benches with reels on them: one of every kind and rate for each seed. */
export function testBenches(seeds: readonly number[]): void {
	test(
		'a good glove whose reels are pulled one after the other has no finding, and its fingers are proven',
		async () => {
			expect(
				await lookAt(seeds, 'seq', diagnosis => [
					...said(diagnosis),
					...otherThan(diagnosis, 'proven', fingers),
					// Nobody has touched stick and buttons.
					...verdictOtherThan(diagnosis, 'unproven'),
				]),
			).toEqual([]);
		},
		slow,
	);

	test(
		'a glove with nothing wired gets one calm line, seven open channels and no alarm',
		async () => {
			expect(
				await lookAt(seeds, 'none', diagnosis => [
					...diagnosis.findings.flatMap(({code, status}) =>
						status === 'failure' || status === 'out-of-spec' ? [`${code} at ${status}`] : [],
					),
					...otherThan(diagnosis, 'open', benchKinds.none.open),
					...(diagnosis.notes?.some(note => note.startsWith('7 inputs open'))
						? []
						: [`notes: ${diagnosis.notes?.join(' ')}`]),
				]),
			).toEqual([]);
		},
		slow,
	);

	test(
		'where only the thumb is wired and pulled the six others are open at function-check, and nothing else is said',
		async () => {
			expect(
				await lookAt(seeds, 'thumb', diagnosis => [
					...openAt(diagnosis, 'function-check', benchKinds.thumb.open),
					...otherThan(diagnosis, 'open', benchKinds.thumb.open),
					...otherThan(diagnosis, 'proven', ['thumb']),
					...verdictOtherThan(diagnosis, 'attention'),
				]),
			).toEqual([]);
		},
		slow,
	);

	test(
		'an index that is not wired is open at failure when all reels are pulled together, and nothing else is said',
		async () => {
			expect(
				await lookAt(seeds, 'index', diagnosis => [
					...openAt(diagnosis, 'failure', benchKinds.index.open),
					...otherThan(diagnosis, 'open', benchKinds.index.open),
					// Pulled by one bar, one may be so good a copy of the reel before it that it is not proven yet (check-values D2).
					...['thumb', 'middle', 'ring', 'little'].filter(
						name => !['proven', 'waiting'].includes(stateOf(diagnosis, name) ?? ''),
					),
					...otherThan(diagnosis, 'proven', ['thumb', 'middle']),
					...verdictOtherThan(diagnosis, 'fail'),
				]),
			).toEqual([]);
		},
		slow,
	);

	test(
		'ghosts that rest as quietly as the thumb they copy are never proven and never alarm',
		async () => {
			expect(
				await lookAt(seeds, 'quiet', diagnosis => [
					...diagnosis.findings.flatMap(({code, channel, status}) =>
						code === 'floating-input' && status === 'function-check' ? [] : [`${code} on ${channel} at ${status}`],
					),
					...otherThan(diagnosis, 'proven', ['thumb']),
					...benchKinds.quiet.open.flatMap(name =>
						stateOf(diagnosis, name) === 'proven' ? [`${name} is proven`] : [],
					),
				]),
			).toEqual([]);
		},
		slow,
	);
}
