import {type Form, readInForm} from './clean-poses.ts';
import {type FoundPivot, findPivot, pivotBlocks} from './find-pivot.ts';
import type {Found, MountStep} from './mount-result.ts';
import {fitPivot, joined, noPivotSums} from './pivot-sums.ts';
import type {Order} from './pose-columns.ts';
import {type Direction, directions, orders} from './pose-form.ts';
import type {Poses, Span} from './poses.ts';
import type {Bin} from './stillness.ts';

/** What is known of a form before the poses are looked at. */
export type KnownForm = {
	readonly order: Order | undefined;
	readonly orderBy: 'option' | 'name';
	readonly direction: Direction | undefined;
};

type FoundForm = {
	readonly order: Found<Order>;
	readonly direction: Found<Direction>;
	readonly pivot: FoundPivot | undefined;
};

/** Below this a residual is nothing but the noise of a good tracker, mm: no form is better for being below it. */
const leastRms = 0.5;

/**
 * In which order a quaternion's numbers stand, and what it turns into what: of the four forms the one in which a point of
 * the tracker stays best while it turns on the pivot. Without a pivot nothing tells, and the usual is assumed. `neutral`: poses
 * whose quaternions stand as in the log; `bins` of them, whose speeds are the same in every form.
 */
export function findForm(
	neutral: Poses,
	bins: readonly Bin[],
	known: KnownForm,
	given: MountStep | undefined,
): FoundForm {
	const forms: Form[] = (known.order === undefined ? orders : [known.order]).flatMap(order =>
		(known.direction === undefined ? directions : [known.direction]).map(direction => ({order, direction})),
	);
	const read = forms.map(form => {
		const poses = readInForm(neutral, form);
		return {form, poses, pivot: given ? undefined : findPivot(poses, bins)};
	});
	// Another form may take another stretch for the pivot: the true one is where one form fits far better than the others.
	const found = read
		.flatMap(({pivot}) => (pivot ? [{pivot, clear: clearness(read, pivot)}] : []))
		.sort((a, b) => b.clear - a.clear)[0]?.pivot;
	const span = given ?? found;
	const orderBy = known.order === undefined ? 'data' : known.orderBy;
	const directionBy = known.direction === undefined ? 'data' : 'option';
	if (span === undefined) {
		return {
			order: {is: known.order ?? 'wxyz', by: known.order === undefined ? 'assumed' : orderBy, next: null, times: null},
			direction: {
				is: known.direction ?? 'tracker-to-space',
				by: known.direction === undefined ? 'assumed' : directionBy,
				next: null,
				times: null,
			},
			pivot: undefined,
		};
	}
	const scored = read.map(({form, poses}) => ({form, rms: rmsDuring(poses, span)})).sort((a, b) => a.rms - b.rms);
	const best = scored[0];
	const next = <K extends keyof Form>(key: K) => scored.find(({form}) => form[key] !== best.form[key]);
	const times = (rms: number | undefined) => (rms === undefined ? null : rms / Math.max(best.rms, leastRms));
	const order = next('order');
	const direction = next('direction');
	// The best form's own pivot: another form may have cut it short.
	const own = given ? undefined : (read.find(({form}) => form === best.form)!.pivot ?? found);
	return {
		order: {is: best.form.order, by: orderBy, next: order?.form.order ?? null, times: times(order?.rms)},
		direction: {
			is: best.form.direction,
			by: directionBy,
			next: direction?.form.direction ?? null,
			times: times(direction?.rms),
		},
		pivot: own,
	};
}

/** How many times better the best form fits a stretch than the second; with one form, how well it fits. */
function clearness(read: readonly {readonly poses: Poses}[], span: Span): number {
	const [best, next] = read.map(({poses}) => rmsDuring(poses, span)).sort((a, b) => a - b);
	return next === undefined ? 1 / best : next / Math.max(best, leastRms);
}

function rmsDuring(poses: Poses, span: {from: number; to: number}): number {
	const sums = pivotBlocks(poses, span, span.to - span.from + 1).reduce((sum, each) => joined(sum, each), noPivotSums);
	return fitPivot(sums)?.rms ?? Number.POSITIVE_INFINITY;
}
