import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {Found, MountResult, ReadAs} from './mount-result.ts';
import {type OffsetFigures, offsetFigures} from './offset-figures.ts';
import {halfWidths, widest} from './region.ts';
import {degree} from './rotation.ts';
import type {VerifyResult} from './verify.ts';

const foundJson = (found: Found<string> | null) =>
	found && {is: found.is, by: found.by, runnerUp: found.next, timesWorse: found.times};

function offsetJson({position, turn}: OffsetFigures) {
	const [w, x, y, z] = turn?.quaternion ?? [];
	return {positionMm: position, quaternion: turn && {w, x, y, z}};
}

/** What `mount --json` prints (schema 1): positions in mm in the axes of what they start from, numbers rounded to six figures. */
export function mountJson(
	result: MountResult,
	readAs: ReadAs,
	source: {readonly kind: string; readonly name: string},
	verify: VerifyResult | null = null,
): unknown {
	const {trackerToHand, handToTracker} = offsetFigures(result);
	return roundFigures({
		schema: 1,
		kind: 'mount',
		tool: {name: tool.name, version: tool.version},
		source: {kind: source.kind, name: source.name},
		hand: result.hand,
		space: result.handedness,
		road: result.road,
		trackerToHand: offsetJson(trackerToHand),
		handToTracker: offsetJson(handToTracker),
		pivotMm: result.point,
		originFromPivotMm: result.originFromPivot,
		uncertainty: {
			positionMm95: result.placeRegion && halfWidths(result.placeRegion),
			rotationDeg95: result.turnRegion && widest(result.turnRegion) / degree,
			pivotMm95: result.pointRegion && halfWidths(result.pointRegion),
			handToTrackerMm95: handToTracker.position95,
		},
		read: {
			unit: readAs.unit.is,
			quaternionOrder: readAs.order.is,
			direction: readAs.direction.is,
			upAxis: readAs.upAxis?.is ?? null,
			rows: readAs.rows,
			seconds: readAs.seconds,
			device: readAs.device,
			second: readAs.second,
			lagSeconds: readAs.lagSeconds,
			found: {
				unit: foundJson(readAs.unit),
				quaternionOrder: foundJson(readAs.order),
				direction: foundJson(readAs.direction),
				upAxis: foundJson(readAs.upAxis),
			},
			notes: readAs.notes,
		},
		steps: result.steps.map(({name, from, to}) => ({name, from, to})),
		turned: result.swings.map(({about, degrees}) => ({about, degrees})),
		strayMm: result.strayMm,
		strayDeg: result.strayDegrees,
		missing: result.missing.map(({what, move}) => ({what, move})),
		problems: result.problems,
		verify: verify && {
			againstName: verify.against,
			leftMm: verify.leftMm,
			leftDeg: verify.leftDegrees,
			isZero: verify.isZero,
			slip: verify.slip && {what: verify.slip.what, timesBetter: verify.slip.timesBetter},
		},
		verdict: verify === null || verify.isZero ? result.verdict : 'fail',
	});
}
