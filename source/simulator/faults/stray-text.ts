import type {FaultModel} from '../fault-model.ts';
import type {Random} from '../random.ts';
import {timesWithin} from './times-within.ts';

const subjects = [
	'battery',
	'loop',
	'heap',
	'puppet',
	'servo',
	'reel',
	'loom',
	'radio',
	'temp',
	'jaw',
	'wing',
	'stage',
	'cord',
];
const words = ['ok', 'low', 'retry', 'waiting', 'done', 'changed', 'slow', 'found', 'timeout', 'saved', 'ping', 'set'];
const marks = ['DEBUG', 'dbg', 'I', 'W', 'info', 'warn', '#', '>>', 'log'];

/** A debug line as people write them; never only numbers. */
function debugLine(random: Random): string {
	const subject = random.pick(subjects);
	const word = random.pick(words);
	const number = random.weighted([
		[String(random.integer(0, 9)), 1],
		[String(random.integer(10, 99999)), 2],
		[random.uniform(0, 99).toFixed(random.integer(1, 3)), 2],
	]);
	switch (random.integer(0, 5)) {
		case 0:
			return `${random.pick(marks)}: ${subject} ${word}`;
		case 1:
			return `${random.pick(marks)} ${subject} ${number}`;
		case 2:
			return `${subject} ${word} (${number} ms)`;
		case 3:
			return `${subject}=${number} ${word}`;
		case 4:
			return `[${random.integer(1, 9999)}] ${subject} ${word}`;
		default:
			return `${subject} ${word}!`;
	}
}

/** Debug prints and banners between the frames. */
export const strayText: FaultModel = {
	code: 'stray-text',
	scope: 'link',
	variants: ['debug'],
	install(rig, fault) {
		const {random, severity} = fault;
		const gap = Math.max(0.4, 15 * 0.05 ** Math.max(0, severity));
		const times = severity <= -1 ? [] : timesWithin(rig, fault, gap, 0.5);
		for (const t of times) {
			rig.at(t, () =>
				rig.say(
					Array.from(
						{
							length: random.weighted([
								[1, 6],
								[2, 2],
								[4, 1],
							]),
						},
						() => debugLine(random),
					),
				),
			);
		}
		const {framing} = rig.stream;
		return {
			must: times.length > 0 && (framing === 'text' || framing === 'json'),
			from: times[0],
			may: [{code: 'broken-frames', channel: null}],
		};
	},
};
