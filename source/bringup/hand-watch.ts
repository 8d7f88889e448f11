import type {Features} from '../features/features.ts';
import {EndVisits} from '../fit/end-visits.ts';
import {GlitchFilter} from '../fit/glitch-filter.ts';
import {robustRange} from '../fit/robust-range.ts';
import type {Pull} from './pull-tracker.ts';
import {readingAt} from './reading-at.ts';
import type {KeptRange} from './step-record.ts';

type Watched = {readonly column: number; readonly filter: GlitchFilter; readonly visits: EndVisits};

/** Movements of the whole hand: counts them, and finds what range each channel uses in them. */
export class HandWatch {
	readonly pulls: Pull[] = [];
	/** Movements so far. */
	movements = 0;
	private readonly features: Features;
	private readonly watched: readonly Watched[];
	private until = Number.NEGATIVE_INFINITY;

	constructor(features: Features, columns: readonly number[]) {
		this.features = features;
		this.watched = columns.map(column => {
			const visits = new EndVisits();
			const filter = new GlitchFilter(through => visits.take(through, features.scale.fullScale));
			return {column, filter, visits};
		});
	}

	frame(t: number, values: Float64Array): void {
		for (const {column, filter} of this.watched)
			filter.push(t, readingAt(values, column), this.features.scale.fullScale);
	}

	/**
	 * Takes a pull that was part of a movement of the hand; answers true where it is the first of a new one. A movement
	 * is a pull on every finger: those that overlap are one.
	 */
	add(pull: Pull): boolean {
		this.pulls.push(pull);
		const isNew = pull.peakAt > this.until;
		if (isNew) this.movements++;
		this.until = Math.max(this.until, pull.to);
		return isNew;
	}

	/** What each column did, its direction taken from the open hand at the start of each movement. */
	ranges(): KeptRange[] {
		const {scale, placeOf} = this.features;
		return this.watched.map(({column, filter, visits}) => {
			filter.end();
			const place = placeOf[column] ?? -1;
			const {low, high} = robustRange(visits, scale.lowOf(place), scale.highOf(place));
			const ways = this.pulls.filter(pull => pull.column === column);
			const rising = ways.filter(({excursion}) => excursion > 0).length;
			return {
				column,
				low: low?.level ?? null,
				high: high?.level ?? null,
				visits: Math.min(low?.visits ?? 0, high?.visits ?? 0),
				direction: 2 * rising === ways.length ? 0 : 2 * rising > ways.length ? 1 : -1,
			};
		});
	}
}
