// `npm run accuracy -- mount [--trials N] [--seed N]`: the acceptance table of docs/mount.md, made again.
import {cases, measure, quantile} from './measure.ts';
import {solveText} from './read-trial.ts';
import {drawTrial, trialText, type Vec} from './trial.ts';

const option = (name: string, usual: number) => {
	const at = process.argv.indexOf(name);
	return at < 0 ? usual : Number(process.argv[at + 1]);
};
const trials = option('--trials', 300);
const seed = option('--seed', 1000);

const cell = (value: number) => (Number.isNaN(value) ? '-' : value.toFixed(1));
const share = (value: number) => (Number.isNaN(value) ? '-' : `${(100 * value).toFixed(1)} %`);

console.log(`${trials} trials each, seeds from ${seed}; in brackets what was to be reached.\n`);
console.log(
	'| case | point mm median / p95 | rotation ° median / p95 | point region holds | rotation region holds | refused |',
);
console.log('|---|---|---|---|---|---|');
for (const each of cases) {
	const {mm, degrees, pointCovered, turnCovered, refused} = measure(each, trials, seed);
	const pair = (list: readonly number[], wanted: readonly [number, number] | undefined) =>
		list.length === 0 || wanted === undefined
			? ''
			: `${cell(quantile(list, 0.5))} / ${cell(quantile(list, 0.95))} (${wanted.join(' / ')})`;
	console.log(
		`| ${each.name} | ${pair(mm, each.mm)} | ${pair(degrees, each.degrees)} | ${share(pointCovered)} | ${share(turnCovered)} | ${share(refused)} |`,
	);
}

const ups: readonly [string, Vec][] = [
	['x', [1, 0, 0]],
	['y', [0, 1, 0]],
	['z', [0, 0, 1]],
	['-x', [-1, 0, 0]],
	['-z', [0, 0, -1]],
];
const forms = Math.min(120, trials);
const right = {form: 0, up: 0, steps: 0};
const ratios = {order: [] as number[], up: [] as number[]};
for (let index = 0; index < forms; index++) {
	const [name, up] = ups[index % ups.length];
	const order = index % 2 === 0 ? 'wxyz' : 'xyzw';
	const isInverse = index % 4 > 1;
	const trial = drawTrial({seed: seed + 5000 + index, up});
	try {
		const {readAs, result} = solveText(trialText(trial, order, false, isInverse));
		const isForm = readAs.order.is === order && (readAs.direction.is === 'space-to-tracker') === isInverse;
		if (isForm) right.form++;
		if (readAs.upAxis?.is === name) right.up++;
		if (result.steps.length === trial.steps.length) right.steps++;
		ratios.order.push(Math.min(readAs.order.times ?? 0, readAs.direction.times ?? 0));
		ratios.up.push(readAs.upAxis?.times ?? 0);
	} catch (error) {
		console.log(`seed ${seed + 5000 + index}: ${(error as Error).message}`);
	}
}
console.log(
	`\nOf ${forms} logs: form of the quaternion right in ${right.form} (runner-up at least ${cell(quantile(ratios.order, 0.05))} times worse in 95 of 100), up axis in ${right.up} (${cell(quantile(ratios.up, 0.05))} times), all steps found in ${right.steps}.`,
);
