import type {Session} from '../../source/session/session.ts';
import type {ChannelView, Finding, Snapshot} from '../../source/session/snapshot.ts';
import type {SourceInfo} from '../../source/stream/source.ts';

/** A finger that has travelled; a test changes what it is about. */
export function fingerView(index: number, name: string, changes: Partial<ChannelView> = {}): ChannelView {
	return {
		index,
		name,
		role: 'finger',
		fullScale: 1023,
		now: 500,
		min: 100,
		max: 900,
		mean: 480.25,
		span: 800,
		usableLow: 100,
		usableHigh: 900,
		restNoise: 1.25,
		moving: false,
		state: 'proven',
		learnedUntil: null,
		lastMovedAt: 30,
		activity: 0,
		button: null,
		pulls: {seen: 2, needed: 2},
		movedItselfAt: 30,
		movedBy: 0.78,
		...changes,
	};
}

export const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'];

/** A healthy half minute of the puppet theatre's left glove, all five fingers and a button proven. */
export function sampleSnapshot(changes: Partial<Snapshot> = {}): Snapshot {
	const channels = [
		...fingerNames.map((name, index) => fingerView(index, name)),
		fingerView(5, 'button-1', {
			role: 'button',
			fullScale: 1,
			min: 0,
			max: 1,
			span: null,
			restNoise: null,
			button: {pressed: false, presses: 3, shortestPressMs: 80, bounces: 0},
		}),
	];
	return {
		t: 32,
		layout: {
			framing: 'text',
			separator: ',',
			labelled: false,
			checksum: null,
			unit: null,
			channels: channels.map(({index, name, role}) => ({index, name, role})),
		},
		link: {
			frames: 3200,
			bytes: 76_800,
			badLines: 0,
			strayLines: 0,
			framesPerSecond: 100,
			recentFramesPerSecond: 100,
			intervalMs: {median: 10, p95: 10.4, p99: 11, max: 14.25},
			jitterMs: 0.3125,
			bytesPerSecond: 2400,
			lineLoad: 0.20833333,
			lost: null,
			lostPercent: null,
			worstWindow: null,
			outages: 0,
			longestOutageMs: null,
			lastBadLine: null,
			silentForSeconds: 0.01,
			intervalHistogram: Array.from({length: 60}, (_, bin) => (bin === 26 ? 3199 : 0)),
		},
		channels,
		stick: null,
		handMoving: false,
		findings: [],
		events: [],
		marks: [],
		checks: [
			{code: 'floating-input', channel: 'ring', state: 'clear', seen: 6, needed: 6, next: null},
			{code: 'lost-frames', channel: null, state: 'clear', seen: 1, needed: 1, next: null},
		],
		notes: [],
		verdict: 'pass',
		...changes,
	};
}

/** An open wiper on the ring finger; a test changes what it is about. */
export function sampleFinding(changes: Partial<Finding> = {}): Finding {
	return {
		code: 'floating-input',
		channel: 'ring',
		status: 'failure',
		first: false,
		from: 2.1,
		flaggedAt: 4.35,
		to: null,
		confidence: 0.8,
		summary: 'ring wanders by 4.1 % FS rms and takes no part in the hand’s movements.',
		evidence: {rmsPercentFs: 4.1, correlationWithHand: 0.03},
		advice: [
			'Volts from the input pin to ground while the finger moves — follow the finger; an open wire drifts',
			'Unplugged: resistance from the input pin to the middle lug — under 1 Ω and steady',
		],
		cautions: ['Unplug USB and battery before touching the wiring.'],
		spans: [[2.1, null]],
		mended: false,
		...changes,
	};
}

export const sampleInfo: SourceInfo = {
	kind: 'recording',
	name: 'left-glove.gbrec',
	timing: 'measured',
	baud: 115_200,
};

/** A finished run with this snapshot, whose every channel rises from 100 to 900 over its time. */
export function sampleRun(snapshot: Snapshot, info: SourceInfo = sampleInfo, sample = '512,498,500,510,505,1\r\n') {
	const session = {
		options: {timing: info.timing, baud: info.baud},
		snapshot: () => snapshot,
		trend: (_channel: number, _from: number, _to: number, buckets: number) =>
			Array.from({length: buckets}, (_, i) => {
				const middle = 100 + (800 * i) / Math.max(1, buckets - 1);
				return {low: middle - 5, high: middle + 5};
			}),
		freezeFrame: (_code: string, channel: string | null) => ({
			times: [2.0, 2.01, 2.02],
			series: (channel === null ? fingerNames : [channel]).map(name => ({name, values: [500, 520, 480]})),
		}),
	} as unknown as Session;
	return {session, snapshot, info, sample: new TextEncoder().encode(sample)};
}
