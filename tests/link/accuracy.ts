// `npm run accuracy -- link [--seed N]`: the acceptance of the link account (specification C), measured.
import {delayErrors, skews} from './drawn-walk.ts';
import {accountOfW, hasMawk} from './generator-w.ts';

const at = process.argv.indexOf('--seed');
const seed = at < 0 ? 11 : Number(process.argv[at + 1]);

if (hasMawk) {
	const {whole, worst, windows} = accountOfW();
	console.log('Generator W (mawk 1.3.4), in brackets what its counter says:');
	console.log(
		`  lost: whole ${whole.lostPercent!.toFixed(2)} % (4.17), worst 20 s from ${worst!.from} s ${worst!.lostPercent!.toFixed(1)} % (140 s, 21.3), first 20 s ${windows[0].lost} (0)`,
	);
} else console.log('Generator W: left out, no mawk 1.3.4 here, whose random numbers give its figures.');

console.log('\nDelay beyond the best, 300 s at 60/s, a clock of 1 ms; in brackets what was to be reached.');
console.log('| skew ppm | skew found | delay error ms median | p95 | worst p95 of 50 s | true p95 of 50 s, ms |');
console.log('|---|---|---|---|---|---|');
for (const skew of skews) {
	const {skewOffPpm, medianMs, p95Ms, windowsMs, trueMs} = delayErrors(skew, seed);
	console.log(
		`| ${skew} | ${(skew + skewOffPpm).toFixed(2)} (${skew}) | ${medianMs.toFixed(2)} (0.50) | ${p95Ms.toFixed(2)} (0.99) | ${Math.max(...windowsMs).toFixed(2)} (0.7) | ${trueMs.map(ms => ms.toFixed(0)).join(' to ')} |`,
	);
}
