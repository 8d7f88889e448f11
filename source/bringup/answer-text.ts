import type {Channel} from '../framing/layout.ts';
import {measureText} from '../text/number-text.ts';
import type {KeptPull, StepRecord} from './step-record.ts';

/** What a step has found, in a line: for the screen and the transcript. `fullScale` in the unit of the readings. */
export function answerText(record: StepRecord, channels: readonly Channel[], fullScale: number): string {
	const nameOf = (column: number) => channels[column]?.name ?? `column ${column}`;
	const percent = (counts: number, decimals = 0) => measureText((100 * counts) / fullScale, decimals, '%');
	if (record.outcome === 'skipped') return 'skipped';
	if (record.id === 'rest') {
		const rms = (record.noise ?? []).map(each => each.rms);
		const noise =
			rms.length > 0 ? `noise ${percent(Math.min(...rms), 2)} to ${percent(Math.max(...rms), 2)} FS` : 'no rest seen';
		const restless = (record.restless ?? []).map(nameOf);
		return restless.length > 0 ? `${noise}; ${restless.join(', ')} would not rest` : noise;
	}

	if (record.outcome === 'unanswered') return 'nothing answered';
	if (record.ranges) {
		const moved = record.ranges.filter(({low, high}) => low !== null && high !== null).length;
		return `${moved} of ${record.ranges.length} channels followed`;
	}

	if (record.reach) {
		const least = Math.min(...record.reach.flatMap(({low, high}) => [low, high]));
		return `reaches ${percent(least)} FS or more to every side`;
	}

	if (record.stays) return `${record.stays.length} stays along the ruler`;
	if (record.column === null) return 'done';
	const name = nameOf(record.column);
	const {pulls = []} = record;
	if (record.presses !== undefined) return `${name} answered`;
	if (pulls.length === 0) return `${name} answered`;
	const times = pulls.length === 1 ? '' : `, ${pulls.length} times`;
	return `${name} answered: ${direction(pulls)} by ${percent(longest(pulls))} FS${times}`;
}

function direction(pulls: readonly KeptPull[]): string {
	const rising = pulls.filter(({excursion}) => excursion > 0).length;
	return rising === pulls.length ? 'rises' : rising === 0 ? 'falls' : 'goes both ways';
}

function longest(pulls: readonly KeptPull[]): number {
	return Math.max(...pulls.map(({excursion}) => Math.abs(excursion)));
}
