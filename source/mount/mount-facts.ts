import type {Vector} from './rotation.ts';

type OffsetJson = {
	readonly positionMm: Vector | null;
	readonly quaternion: {readonly w: number; readonly x: number; readonly y: number; readonly z: number} | null;
};

/** Of what `mount --json` printed, what a page and `--verify` need. */
type MountFacts = {
	readonly hand: 'left' | 'right';
	readonly source: {readonly name: string};
	readonly trackerToHand: OffsetJson;
	readonly handToTracker: OffsetJson;
	readonly uncertainty: {
		readonly positionMm95: readonly number[] | null;
		readonly rotationDeg95: number | null;
		readonly handToTrackerMm95: readonly number[] | null;
	};
	readonly read: {
		readonly unit: string;
		readonly quaternionOrder: string;
		readonly direction: string;
		readonly upAxis: string | null;
		readonly rows: number;
		readonly seconds: number;
		readonly notes: readonly string[];
	};
	readonly steps: readonly {readonly name: string; readonly from: number; readonly to: number}[];
	readonly turned: readonly {readonly about: string; readonly degrees: number}[];
	readonly missing: readonly {readonly what: string; readonly move: string}[];
	readonly problems: readonly string[];
	readonly verdict: 'pass' | 'unproven' | 'fail';
};

export type MountPageFacts = MountFacts & {readonly sentence: string};

/** The object that `mount --json` printed; undefined for anything else. */
export function mountFactsOf(text: string): MountFacts | undefined {
	try {
		const value = JSON.parse(text) as {kind?: unknown; schema?: unknown} & MountFacts;
		const lists = [value?.steps, value?.turned, value?.missing, value?.problems, value?.read?.notes];
		const isWhole =
			value?.kind === 'mount' &&
			value.schema === 1 &&
			lists.every(Array.isArray) &&
			[value.trackerToHand, value.handToTracker, value.uncertainty, value.source].every(
				each => typeof each === 'object' && each !== null,
			) &&
			['pass', 'unproven', 'fail'].includes(value.verdict);
		return isWhole ? value : undefined;
	} catch {
		return undefined;
	}
}

/** The verdict in a sentence without its word. */
export function factsSentence({verdict, missing, problems}: MountFacts): string {
	if (verdict === 'fail') return problems[0] ?? 'an offset is left after it was typed in.';
	if (verdict === 'unproven')
		return `${[...new Set(missing.map(({what}) => what))].join(' and ')} not known well enough yet.`;
	return 'rotation and position are known.';
}
