// The acceptance of settings-stale over many seeds: npm run accuracy -- stale [SEEDS] [FIRST] [KINDS]
import {staleCase, staleKinds} from './stale-settings.ts';

const given = process.argv.slice(process.argv.indexOf('stale') + 1);
const seeds = Number(given[0] ?? 200);
const first = Number(given[1] ?? 0);
const only = new RegExp(given[2] ?? '.');
for (const kind of staleKinds.filter(one => only.test(one))) {
	let right = 0;
	for (let seed = first; seed < first + seeds; seed++) {
		const {isRight, told} = await staleCase(kind, seed);
		if (isRight) right++;
		else process.stdout.write(`  ${kind} ${seed}: ${told}\n`);
	}
	process.stdout.write(`${kind}: ${right} of ${seeds} right\n`);
}
