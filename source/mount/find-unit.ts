import type {Found} from './mount-result.ts';
import {type LengthUnit, lengthUnits, unitMm} from './pose-form.ts';
import type {RawPoses} from './raw-poses.ts';

/**
 * A hand that lies on a table, is turned over and turns about a fingertip moves by 130 mm to 1.3 m in all: 400 mm, and a
 * decade around it, so that of m, cm and mm one is always nearest.
 */
const usualMm = 400;

/** Of the rows, so many at either end are left out: places to which tracking jumped. */
const leftOut = 0.02;

/** So many rows, spread over the log, tell how far a hand moved. */
const lookedAtRows = 4000;

/** The unit of positions by how far the hand moved. `times`: how many times farther from a usual hand the next unit is. */
export function findUnit(raw: RawPoses): Found<LengthUnit> {
	const step = Math.max(1, Math.floor(raw.t.length / lookedAtRows));
	const spans = [0, 1, 2].map(axis => {
		const values: number[] = [];
		for (let row = 0; row < raw.t.length; row += step) values.push(raw.places[3 * row + axis]);
		values.sort((a, b) => a - b);
		const last = values.length - 1;
		return values[Math.ceil(last * (1 - leftOut))] - values[Math.floor(last * leftOut)];
	});
	const moved = Math.hypot(...spans);
	const far = (unit: LengthUnit) => Math.abs(Math.log((moved * unitMm[unit]) / usualMm));
	const [best, next] = [...lengthUnits].sort((a, b) => far(a) - far(b));
	return {is: best, by: 'data', next, times: Number.isFinite(far(next)) ? Math.exp(far(next) - far(best)) : null};
}
