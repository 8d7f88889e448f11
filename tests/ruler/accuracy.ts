// `npm run accuracy -- ruler [--trials N] [--seed N]`: the acceptance of the ruler test (specification E), measured.
import type {TaperClass} from '../../source/ruler/ruler-test.ts';
import {
	atItsLimit,
	audio,
	loaded,
	type Pot,
	pulledUp,
	quantile,
	reverseAudio,
	secondLayer,
	straight,
	trials,
} from './trials.ts';

const option = (name: string, usual: number): number => {
	const at = process.argv.indexOf(name);
	return at < 0 ? usual : Number(process.argv[at + 1]);
};
const count = option('--trials', 400);
const seed = option('--seed', 7);

const classes: readonly TaperClass[] = [
	'straight',
	'audio taper',
	'reverse audio taper',
	'curved',
	'second layer',
	'bow up',
	'bow down',
	'uneven',
];
const rows: readonly [name: string, pot: Pot, wanted: string][] = [
	['straight', straight, '0.5 [0.3…0.9], ratio 1.00 [0.94…1.07], no taper'],
	['at its ±5 % limit, one wave', atItsLimit(5), 'taper at most 0.2 %'],
	['pull-up 10 × the track', pulledUp(0.1), 'no taper'],
	['pull-up 2 × the track', pulledUp(0.5), 'no taper'],
	['wiper loaded by 10 × the track', loaded(0.1), 'not named'],
	['wiper loaded, 0.8 %', loaded(0.06), 'not named'],
	['cord of 1 mm in a second layer from half-way on', secondLayer(1, 16), 'second layer'],
	['audio 15 %', audio(0.15), 'ratio 5.6, audio 99.2 %'],
	['audio 10 %', audio(0.1), 'audio 100 %'],
	['reverse audio 15 %', reverseAudio(0.15), 'reverse audio 99.8 %'],
];

console.log(`${count} trials each, seed ${seed}: 8 steps of 5 mm, ruler 0.3 mm, 55 to 90 % of the track used.`);
for (const offEnds of [0, 0.05]) {
	console.log(
		offEnds === 0
			? '\nBeginning anywhere on the track:\n'
			: `\nKeeping ${100 * offEnds} % of the track off either end:\n`,
	);
	console.log('| pot | to be reached | linearity % median [5…95] | ratio median [5…95] | called, % | refused, % |');
	console.log('|---|---|---|---|---|---|');
	for (const [name, pot, wanted] of rows) {
		const {figures, refused, called} = trials(pot, {count, seed, offEnds});
		const cell = (of: readonly number[]) =>
			`${quantile(of, 0.5).toFixed(2)} [${quantile(of, 0.05).toFixed(2)}…${quantile(of, 0.95).toFixed(2)}]`;
		const names = classes.filter(each => called(each) > 0).map(each => `${each} ${(100 * called(each)).toFixed(1)}`);
		console.log(
			`| ${name} | ${wanted} | ${cell(figures.map(each => each.linearityPercent))} | ${cell(figures.map(each => each.slopeRatio))} | ${names.join(', ')} | ${((100 * refused.length) / count).toFixed(1)} |`,
		);
		for (const reason of new Set(refused)) console.log(`  refused: ${reason}`);
	}
}

console.log('\n| hysteresis drawn, % | found, median (0.5, 4.0, 10.0) | refused, % |');
console.log('|---|---|---|');
for (const lagPercent of [0, 4, 10]) {
	const {figures, refused} = trials(straight, {count, seed, lagPercent});
	console.log(
		`| ${lagPercent} | ${quantile(
			figures.map(each => each.hysteresisPercent!),
			0.5,
		).toFixed(2)} | ${((100 * refused.length) / count).toFixed(1)} |`,
	);
}
