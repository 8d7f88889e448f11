import type {GestureName, Handedness} from './gesture-words.ts';
import type {GestureFit} from './gestures.ts';
import type {Order} from './pose-columns.ts';
import type {Direction, Hand, LengthUnit, UpAxis} from './pose-form.ts';
import type {Span} from './poses.ts';
import type {Region} from './region.ts';
import type {Quaternion, Vector} from './rotation.ts';

/** What a stretch of a log was: a pose that was held, turning on the pivot, or two things moving together. */
export type StepName = GestureName | 'pivot' | 'together';
export type MountStep = Span & {readonly name: StepName};

/** Which road led to the result: poses and a pivot, a second thing in the hand, or one in a space of its own. */
export type Road = 'gestures' | 'second' | 'two-spaces';

/** How far the hand was turned about one of its axes on the pivot, degrees: half of a swing to and fro of the same power. */
export type Swing = {readonly about: string; readonly degrees: number; readonly move: string};

/** What is not known yet, and the movement that would tell. */
export type Missing = {readonly what: string; readonly move: string};

/** When it is good enough: standard deviations along the direction known least. */
export type Enough = {readonly mm: number; readonly degrees: number};

/** check-values O6. */
export const usualEnough: Enough = {mm: 3, degrees: 2};

/** What a choice between readings was decided by. `times`: how many times worse the next best fits; null where none was tried. */
export type Found<T> = {
	readonly is: T;
	readonly by: 'option' | 'name' | 'data' | 'assumed';
	readonly next: T | null;
	readonly times: number | null;
};

/** How a log was read. */
export type ReadAs = {
	readonly unit: Found<LengthUnit>;
	readonly order: Found<Order>;
	readonly direction: Found<Direction>;
	readonly upAxis: Found<UpAxis> | null;
	readonly rows: number;
	readonly seconds: number;
	readonly device: string | null;
	readonly second: string | null;
	readonly lagSeconds: number | null;
	/** Calm sentences: what was left out or set right. */
	readonly notes: readonly string[];
};

export type MountResult = {
	readonly road: Road;
	readonly hand: Hand;
	readonly handedness: Handedness;
	/** Takes the hand's axes to the tracker's. */
	readonly turn: Quaternion | null;
	readonly turnRegion: Region | null;
	/** The pivot point in the tracker's axes, mm. */
	readonly point: Vector | null;
	readonly pointRegion: Region | null;
	/** From the pivot point to the hand's origin, in the hand's axes, mm. */
	readonly originFromPivot: Vector;
	/** The hand's origin in the tracker's axes, mm. */
	readonly place: Vector | null;
	readonly placeRegion: Region | null;
	readonly steps: readonly MountStep[];
	readonly swings: readonly Swing[];
	readonly gestureFit: GestureFit | null;
	/** How far the pivot point strayed, mm rms; of two streams what is left of single poses. */
	readonly strayMm: number | null;
	readonly strayDegrees: number | null;
	readonly missing: readonly Missing[];
	/** What contradicts itself. */
	readonly problems: readonly string[];
	readonly verdict: 'pass' | 'unproven' | 'fail';
	readonly enough: Enough;
};

/** A result whose rotation and place are both there. */
export function isWhole(
	result: MountResult,
): result is MountResult & {turn: Quaternion; place: Vector; turnRegion: Region; placeRegion: Region} {
	return result.turn !== null && result.place !== null && result.turnRegion !== null && result.placeRegion !== null;
}
