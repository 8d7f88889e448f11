import type {Features} from '../features/features.ts';
import {mainsCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {followsFinger} from './rest-watch.ts';

/** out-of-spec: the finger is still visible, under a disturbance. */
export const mainsHum: Fault = {
	code: 'mains-hum',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'mains pickup',
	definition: 'A 50 or 60 Hz line, or what remains of it at this frame rate, on a channel that follows its finger.',
	physics:
		'Mains fields couple into long, weakly driven leads. Sampled at f_s, a line at f shows up at |f − f_s·round(f/f_s)|: 50 Hz appears at 10 Hz in 60 frames/s and at 0 Hz, as a plain offset, in 50 frames/s. The alias is as large as the hum.',
	causes: [
		'The ground of the pots is poor, so the wiper is driven weakly and the leads act as an antenna.',
		'A laptop on its charger without earth: its leakage rides on the USB ground and the wearer couples it in.',
		'Sensor wires along a mains lead, a transformer or a lamp.',
		'A pot of 100 kΩ or more.',
	],
	checks: [
		{measure: 'Run the computer from its battery, charger pulled out', expect: 'hum gone: it comes in by the charger'},
		{measure: "Unplugged: resistance from the pot's ground lug to the board's ground", expect: 'under 1 Ω'},
		{measure: 'Move the glove a metre away from mains leads and lamps', expect: 'less: pickup by field'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{
			measure: 'Meter on AC volts from the input pin to ground, pot at mid-travel',
			expect: 'a few mV; 53 mV rms is 1.5 % of 5 V peak',
		},
	],
	remedy: [
		'Mend the ground; run it beside each sensor wire, twisted.',
		'Use an earthed or another charger, or a battery.',
		'Solder 100 nF from the input to ground at the board.',
		'Average over whole mains periods (20 ms at 50 Hz, 16.7 ms at 60 Hz).',
	],
	caution: `${mainsCaution} ${rewiringCaution}`,
	thresholds:
		'1.5 % of full scale peak is 15 counts at 10 bit, five times the noise of a sound pot; 0.5 % is buried in it. The line is looked for at 50 and 60 Hz and their aliases (sampling theorem). Frame rates that are a whole part of the mains rate turn hum into an offset or a slow drift: where the alias lies within 2 Hz of zero hum cannot be told, and noise found at such a rate says so.',
	detect,
};

/** Geometric mean of the definition's must (1.5 % peak) and must not (0.5 %). */
const leastPeak = 0.0087;

function detect(features: Features, a: number): Verdict {
	const {analog, hum} = features;
	const full = analog.scale.fullScale;
	const line = hum.found[a];
	if (line === undefined || line.streak === 0) {
		// No line where it was looked for, at rest: gone. While the channel moves nothing can be said.
		const {blocks} = analog;
		const newest = blocks.count - 1;
		return newest >= 8 &&
			blocks.settled[blocks.at(newest, a)] === 1 &&
			blocks.noise[blocks.at(newest, a)] < 0.003 * full
			? 'gone'
			: undefined;
	}
	// An alias within a finger's reach must last: nobody moves a little and evenly to within a quarter of a hertz for 3.5 s
	// (a window of two seconds, four looks in a row).
	const handLike = line.alias <= 8;
	if (handLike && (line.streak < 4 || line.share < 0.6 || line.amplitude > 0.1 * full)) return undefined;
	if (line.streak < 2 || line.share < 0.5 || line.amplitude < leastPeak * full) return undefined;
	// A strong line with overtones, sampled fast enough to be seen as itself, is the mains whatever else the channel does.
	const plain =
		line.mains > 0 && line.harmonic && line.framesPerSecond >= 2.2 * line.mains && line.amplitude >= 0.03 * full;
	if (!plain && !followsFinger(features, a, 0)) return undefined;
	const name = line.mains === 0 ? '50 or 60' : String(line.mains);
	const seen =
		line.mains > 0 && Math.abs(line.alias - line.mains) < 1
			? ''
			: `, seen at ${figure(line.alias)} Hz at this frame rate`;
	return {
		from: Math.max(0, features.now - 2),
		confidence: line.share >= 0.8 ? 0.9 : 0.75,
		summary: `${features.analogName(a)} carries ${name} Hz mains hum of ${percentFs(features, line.amplitude)} % FS peak${seen}.`,
		evidence: {
			mainsHertz: line.mains || '50 or 60',
			aliasHertz: figure(line.alias),
			peakPercentFs: percentFs(features, line.amplitude),
			framesPerSecond: figure(line.framesPerSecond),
			shareOfNoisePercent: figure(line.share * 100),
		},
	};
}
