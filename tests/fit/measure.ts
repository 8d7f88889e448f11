// How far off the settings are: `fit` on drawn gloves, and the guided routine on gloves with two cords swapped and one
// reel reversed, against what the simulator knows. Prints, and passes or fails nothing.
// node tests/tools/run.mjs tests/fit/measure.ts [gloves, 50] [first seed, 1]
import {quantileSorted} from 'simple-statistics';
import {runItems, sampleSimulation} from '../bringup/sample-run.ts';
import {centreError, fitDrawn, rangeErrors, wrongFlips} from './drawn-gloves.ts';

const [gloves, firstSeed] = [process.argv[2] ?? 50, process.argv[3] ?? 1].map(Number);
const seeds = Array.from({length: gloves}, (_, i) => firstSeed + i);
const names = ['thumb', 'index', 'middle', 'ring', 'little'];

function spread(errors: readonly number[]): string {
	const sorted = [...errors].sort((one, other) => one - other);
	const at = (share: number) => quantileSorted(sorted, share).toFixed(3);
	return `median ${at(0.5)}, 95th percentile ${at(0.95)}, most ${at(1)} % FS (${sorted.length} figures)`;
}

function print(line: string): void {
	process.stdout.write(`${line}\n`);
}

const ranges: number[] = [];
const centres: number[] = [];
let fingers = 0;
let flipped = 0;
let refused = 0;
print('seed  board, firmware                    range: worst end  centre  wrong flips');
for (const seed of seeds) {
	const fitted = fitDrawn(seed);
	const errors = rangeErrors(fitted);
	const worst = errors.reduce((most, each) => (each.percentFs > most.percentFs ? each : most));
	const centre = centreError(fitted);
	const wrong = wrongFlips(fitted);
	ranges.push(...errors.map(({percentFs}) => percentFs));
	if (centre === undefined) refused++;
	else centres.push(centre);
	fingers += fitted.glove.fingers.length;
	flipped += wrong.length;
	const {board, firmware} = fitted.glove;
	print(
		`${String(seed).padStart(4)}  ${`${board.family}, ${firmware.kind}, ${fitted.spec.stream.rate}/s`.padEnd(34)} ` +
			`${`${worst.name} ${worst.percentFs.toFixed(3)} % FS`.padStart(16)}  ` +
			`${centre === undefined ? 'refused' : centre.toFixed(3).padStart(7)}  ${wrong.join(' ') || '-'}`,
	);
}

print('');
print(`fit, ${seeds.length} gloves:`);
print(`  range of ${ranges.length} of ${fingers} fingers: ${spread(ranges)}`);
print(`  centre of the stick: ${spread(centres)}; refused on ${refused}`);
print(`  wrong way round: ${flipped}`);

let inOrder = 0;
let found = 0;
for (const seed of seeds) {
	// Every pair in turn, and every reel reversed in turn.
	const swapped = [names[seed % 5], names[(seed + 1 + (Math.floor(seed / 5) % 4)) % 5]] as const;
	const reversed = [names[(seed * 3) % 5]];
	const {items, truth} = sampleSimulation(seed, {swapped, reversed});
	const {result} = await runItems(items);
	if (result.asBuilt.channels.every(({name}, column) => name === truth.columns[column])) inOrder++;
	const wanted = [`reversed-sensor ${reversed[0]}`, ...swapped.map(name => `swapped-channels ${name}`)].sort();
	const got = result.findings.map(({code, channel}) => `${code} ${channel}`).sort();
	if (got.join() === wanted.join()) found++;
	else print(`  seed ${seed}: ${wanted.join(', ')} wanted; found ${got.join(', ')}`);
}

print(`bring-up, ${seeds.length} gloves with two cords swapped and one reel reversed:`);
print(`  order of the channels right on ${inOrder}; exactly these three findings on ${found}`);
