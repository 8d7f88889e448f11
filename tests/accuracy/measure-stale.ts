// The acceptance of settings-stale over many seeds: node tests/tools/run.mjs tests/accuracy/measure-stale.ts [SEEDS] [FIRST] [KINDS]
import {staleCase, staleKinds} from './stale-settings.ts';

const seeds = Number(process.argv[2] ?? 200);
const first = Number(process.argv[3] ?? 0);
const only = new RegExp(process.argv[4] ?? '.');
for (const kind of staleKinds.filter(one => only.test(one))) {
	let right = 0;
	for (let seed = first; seed < first + seeds; seed++) {
		const {isRight, told} = await staleCase(kind, seed);
		if (isRight) right++;
		else process.stdout.write(`  ${kind} ${seed}: ${told}\n`);
	}
	process.stdout.write(`${kind}: ${right} of ${seeds} right\n`);
}
