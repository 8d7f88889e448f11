import type {Features} from '../features/features.ts';
import type {Knowledge} from './sensing.ts';
import type {StepRecord} from './step-record.ts';
import type {Step} from './steps.ts';

/** What the steps done so far say about each column. `records` may grow and shrink meanwhile. */
export class KnownSoFar implements Knowledge {
	private readonly features: Features;
	private readonly records: readonly StepRecord[];

	constructor(features: Features, records: readonly StepRecord[]) {
		this.features = features;
		this.records = records;
	}

	/** rms at rest: as the rest step found it, else as the session knows it by now. */
	noise(column: number): number | undefined {
		const kept = this.find('rest')?.noise?.find(each => each.column === column);
		return kept?.rms ?? this.features.analog.restNoise(this.features.placeOf[column] ?? -1);
	}

	/** Whole travel, in the unit of the readings: with the hand, or, before that, pulled at the reels. */
	span(column: number): number | undefined {
		const range = this.find('hand')?.ranges?.find(each => each.column === column);
		if (range && range.low !== null && range.high !== null) return range.high - range.low;
		const reels = this.records.filter(({id}) => id.startsWith('reel '));
		// While the reels are pulled a neighbour may have moved a little only, and would seem to move whole.
		if (reels.length < this.features.layout.channels.filter(({role}) => role === 'finger').length) return undefined;
		const ways = reels
			.flatMap(({pulls = []}) => pulls)
			.filter(pull => pull.column === column)
			.map(({excursion}) => Math.abs(excursion));
		return ways.length > 0 ? Math.max(...ways) : undefined;
	}

	/** A channel that would not rest answers nothing. */
	mayAnswer(column: number): boolean {
		return !this.records.some(({restless}) => restless?.includes(column));
	}

	/** True where the column has answered another step of this kind. */
	hasAnswered(kind: 'reel' | 'finger', column: number): boolean {
		return this.records.some(
			record => record.id.startsWith(`${kind} `) && record.column === column && record.outcome === 'done',
		);
	}

	/** True where a push of this kind has answered another side's step: the same column, the same way. */
	isPushedAlready(column: number, excursion: number): boolean {
		return this.records.some(
			({id, outcome, pulls}) =>
				id.startsWith('stick ') &&
				outcome === 'done' &&
				pulls?.some(pull => pull.column === column && Math.sign(pull.excursion) === Math.sign(excursion)),
		);
	}

	/** True where the column has answered another button's step. */
	isPressedAlready(column: number): boolean {
		return this.records.some(record => record.presses !== undefined && record.column === column);
	}

	nameOf(column: number): string {
		return this.features.layout.channels[column]?.name ?? `column ${column}`;
	}

	/** True while the session holds a column for an open pin. */
	isOpen(column: number): boolean {
		const place = this.features.placeOf[column] ?? -1;
		return place >= 0 && this.features.open[place] === 1;
	}

	/** The column that a finger, axis or button is on by its name; −1 where there is none. */
	columnOf(name: string): number {
		return this.features.layout.channels.findIndex(channel => channel.name === name);
	}

	/** The column that a finger's movement is expected on: its own, or the one that its reel has answered on. */
	expectedOn(kind: Step['kind'], channel: string): number {
		const reel = this.find(`reel ${channel}`);
		return kind === 'finger' && reel?.column != null ? reel.column : this.columnOf(channel);
	}

	private find(id: string): StepRecord | undefined {
		return this.records.find(record => record.id === id);
	}
}
